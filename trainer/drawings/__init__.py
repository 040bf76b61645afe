"""Job drawings as SVG: to scale, dimensioned in the reader's language, with a text alternative.

Every number that is not given comes from the rules, so a drawing cannot disagree with an answer.
"""

from trainer.drawings.errors import DrawingInputError
from trainer.drawings.parts import Box, Part, big_first
from trainer.drawings.registry import (
    DRAWINGS,
    DrawingKind,
    draw,
    drawing_inputs,
    get_drawing,
)
from trainer.drawings.sheet import Drawing

__all__ = [
    "DRAWINGS",
    "Box",
    "Drawing",
    "DrawingInputError",
    "DrawingKind",
    "Part",
    "big_first",
    "draw",
    "drawing_inputs",
    "get_drawing",
]
