"""Asks for a job in an electrician's order and writes a commented job file: the guided start.

Each answer is put into the text of a job that is whole from the beginning, and that text is read as any job
file is: so every answer is held to the same rules, in the same words.
"""
