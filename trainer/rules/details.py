"""Details: patches, strips round a curb, collars for a pipe, and the height left for a flashing.

Shapes and laps are the specification's or the drawing's; these rules add them up.
"""

from fractions import Fraction

from trainer.rules.dimensions import Distance, Length
from trainer.rules.registry import DEFINITION, Working, above, rule
from trainer.rules.sources import GEOMETRY

_ZERO = Fraction(0)


@rule("details", gives="patch_size", source=DEFINITION, limits=(above("damage", 0), above("patch_lap", 0)))
def patch_size(damage: Length, patch_lap: Length) -> Working[Length]:
    """Find one side of a patch that passes a cut by its lap on both sides."""
    size = damage + 2 * patch_lap
    return Working(size, ("patch_size", size, "{damage} + 2 × {patch_lap}"))


@rule("details", gives="strip_length", source=GEOMETRY, limits=(above("curb_length", 0), above("curb_width", 0)))
def strip_round_curb(curb_length: Length, curb_width: Length, strip_lap: Length) -> Working[Length]:
    """Find the length of strip round a rectangular curb, one piece to each side, lapped at every corner."""
    length = 2 * (curb_length + curb_width) + 4 * strip_lap
    return Working(length, ("strip_length", length, "2 × ({curb_length} + {curb_width}) + 4 × {strip_lap}"))


@rule("details", gives="collar_size", source=GEOMETRY, limits=(above("pipe_diameter", 0), above("collar_flange", 0)))
def collar_size(pipe_diameter: Length, collar_flange: Length) -> Working[Length]:
    """Find one side of the square sheet for a collar that passes a pipe by its flange all round."""
    size = pipe_diameter + 2 * collar_flange
    return Working(size, ("collar_size", size, "{pipe_diameter} + 2 × {collar_flange}"))


@rule("details", gives="flashing_left", source=DEFINITION, limits=(above("curb_height", 0),))
def flashing_height_left(curb_height: Length, insulation: Length, pond_depth: Length = _ZERO) -> Working[Distance]:
    """Find how high a curb, measured from the roof deck, still stands above the finished roof and standing water.

    Guide specifications ask for 8 in above the finished roof; the drawing rules. Below 0 the roof covers the curb.
    """
    left = curb_height - insulation - pond_depth
    return Working(left, ("flashing_left", left, "{curb_height} − {insulation} − {pond_depth}"))


@rule("details", gives="scupper_girth", source=GEOMETRY,
      limits=(above("scupper_width", 0), above("scupper_height", 0)))  # fmt: skip
def scupper_girth(scupper_width: Length, scupper_height: Length, seam_lap: Length) -> Working[Length]:
    """Find the width of the flat sheet from which the four sides of a scupper box are bent, its one seam lapped."""
    girth = 2 * (scupper_width + scupper_height) + seam_lap
    return Working(girth, ("scupper_girth", girth, "2 × ({scupper_width} + {scupper_height}) + {seam_lap}"))


@rule("details", gives="scupper_depth", source=GEOMETRY, limits=(above("wall_thickness", 0),))
def scupper_depth(wall_thickness: Length, scupper_flange: Length, scupper_drip: Length) -> Working[Length]:
    """Find the length of that sheet through the wall: the wall, the flange turned out on the roof, the drip outside."""
    depth = wall_thickness + scupper_flange + scupper_drip
    return Working(depth, ("scupper_depth", depth, "{wall_thickness} + {scupper_flange} + {scupper_drip}"))


@rule("details", gives="corner_piece", source=GEOMETRY, limits=(above("up_wall", 0), above("onto_roof", 0)))
def corner_piece_size(up_wall: Length, onto_roof: Length) -> Working[Length]:
    """Find one side of the square piece for a corner: as far up the wall or curb as the flashing, and out on the roof.

    How far either way is the drawing's; how an inside and an outside corner are cut is shown, not computed.
    """
    side = up_wall + onto_roof
    return Working(side, ("corner_piece", side, "{up_wall} + {onto_roof}"))
