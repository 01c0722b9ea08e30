"""Counts what the enclosures of a building need."""
