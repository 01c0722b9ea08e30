"""Keeps what was drawn, and tells whether a printed sheet is still current."""
