"""Draws device-neutral pictures of a planned job, in inches; decides nothing about the layout."""

from templates_engine.drawing.document import draw, draw_cover
from templates_engine.drawing.sheet.face_picture import face_picture
from templates_engine.drawing.untiled import whole_picture

__all__ = ["draw", "draw_cover", "face_picture", "whole_picture"]
