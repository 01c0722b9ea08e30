"""Serves the page: a job file as a form, a text and a drawing side by side, on this machine alone.

The server is a pure function from a job's text to what is shown of it; the browser holds the text.
"""
