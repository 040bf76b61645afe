"""Job drawings as SVG: to scale, dimensioned in the reader's language, with a text alternative.

Every number that is not given comes from the rules, so a drawing cannot disagree with an answer.
"""

from trainer.drawings.errors import DrawingInputError
from trainer.drawings.parts import Box, Part, big_first
from trainer.drawings.registry import (
    DRAWINGS,
    DrawingKind,
    SomeOf,
    draw,
    drawing_inputs,
    get_drawing,
    listed,
)
from trainer.drawings.sheet import Drawing
from trainer.drawings.words import dimension_label, part_label

__all__ = [
    "DRAWINGS",
    "Box",
    "Drawing",
    "DrawingInputError",
    "DrawingKind",
    "Part",
    "SomeOf",
    "big_first",
    "dimension_label",
    "draw",
    "drawing_inputs",
    "get_drawing",
    "listed",
    "part_label",
]
