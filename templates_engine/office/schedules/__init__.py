"""Turns a schedule, a spreadsheet of raceways, into new and changed job files."""
