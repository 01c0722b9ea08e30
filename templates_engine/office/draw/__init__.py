"""Draws the templates of a building in processes of their own, unchanged ones left alone."""
