"""Draws the cover pages of a face and the circuits page."""
