"""Turns the jobs of a building into tables for other programs."""
