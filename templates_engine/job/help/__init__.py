"""Helps people to write job files: lists of keys, other words for them, usual slips."""
