"""Reads a shop file: a shop's own measured figures, and what it usually takes."""
