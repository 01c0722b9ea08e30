"""Device-neutral pictures of a planned job, in inches; decides nothing about the layout."""

from templates_engine.drawing.document import draw, draw_lead
from templates_engine.drawing.face import face_picture
from templates_engine.drawing.whole import whole_picture

__all__ = ["draw", "draw_lead", "face_picture", "whole_picture"]
