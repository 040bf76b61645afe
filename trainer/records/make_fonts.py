"""Make the two static fonts in `fonts/` from the variable font of the package `fontpkg-inter` (OFL 1.1).

Run `python -m trainer.records.make_fonts` after the package changes. The variable font takes seconds a document; two
weights with the letters of Europe, the fractions and the trade's signs take milliseconds. Running it again on the same
package gives the same bytes.
"""

from pathlib import Path

import fontpkg_inter
from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

FONTS = Path(__file__).resolve().parent / "fonts"
SOURCE = Path(fontpkg_inter.__file__).parent / "files" / "Inter[opsz,wght].ttf"
WEIGHTS = {"Regular": 400, "Bold": 700}
RANGES = (
    (0x20, 0x7E),  # letters and digits of English
    (0xA0, 0x24F),  # Latin with accents
    (0x300, 0x36F),  # combining accents
    (0x370, 0x52F),  # Greek, Cyrillic
    (0x1E00, 0x1EFF),  # Vietnamese and more Latin
    (0x2010, 0x2027),  # dashes, quotation marks, bullet, ellipsis
    (0x2032, 0x2033),  # feet and inches
    (0x2150, 0x215E),  # fractions
)
SINGLE = "⁄€™−√≈≠≤≥✓"


def make(name: str, weight: int) -> Path:
    """Instantiate one weight at text size, keep the wanted letters, write `Inter-NAME.ttf`."""
    font = TTFont(SOURCE, recalcTimestamp=False)
    font = instancer.instantiateVariableFont(font, {"wght": weight, "opsz": 14}, updateFontNames=True)
    options = subset.Options()
    options.layout_features = ["kern", "mark", "mkmk", "ccmp", "locl"]
    options.name_IDs = ["*"]  # type: ignore[list-item]  # the library takes the star for all names
    options.notdef_outline = True
    options.hinting = False
    options.glyph_names = False
    options.recalc_timestamp = False
    subsetter = subset.Subsetter(options)
    wanted = {code for first, last in RANGES for code in range(first, last + 1)} | {ord(sign) for sign in SINGLE}
    subsetter.populate(unicodes=wanted)
    subsetter.subset(font)
    target = FONTS / f"Inter-{name}.ttf"
    font.save(target)
    return target


if __name__ == "__main__":
    for name, weight in WEIGHTS.items():
        make(name, weight)
