"""Words on a drawing: setting them with proper fractions, measuring them, and finding them free places."""

from templates_engine.drawing.words.typesetting import centred, set_words, shortened, width_in, wrapped

__all__ = ["centred", "set_words", "shortened", "width_in", "wrapped"]
