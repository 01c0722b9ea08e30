"""Binds the templates of a building into one PDF a paper."""
