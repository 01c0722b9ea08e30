"""Lays the faces of many jobs side by side on a roll of paper."""
