"""Draws a face at true scale as seen through one sheet of paper, with its joints and words."""
