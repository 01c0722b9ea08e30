"""Handles a job file as text: reads it with the place of every value, and changes one value in its place."""
