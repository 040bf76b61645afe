"""A record on paper: one letter sheet like a job drawing, built as PDF/A-3B, with the record's document attached.

The same record always gives the same bytes. The text is in the record's own language. Names, numbers and dates must be
printable with the two fonts in `fonts/`; a letter that they lack is refused rather than left out.
"""

import io
import json
import unicodedata
from functools import lru_cache
from pathlib import Path
from typing import Final, cast

import segno
from django.utils import translation
from django.utils.translation import gettext as _
from fontTools.ttLib import TTFont
from fpdf import FPDF
from fpdf.enums import DocumentCompliance

from trainer.records import queries
from trainer.records.models import CompletionRecord
from trainer.records.pdf_metadata import packet
from trainer.records.showing import Line, Sheet, sheet_of

FONTS: Final = Path(__file__).resolve().parent / "fonts"
FAMILY: Final = "Inter"
# millimetres on a letter sheet, 215.9 × 279.4
LEFT, RIGHT, TOP, BOTTOM = 12.0, 203.9, 12.0, 267.4
INSET: Final = 6.0
INNER: Final = LEFT + INSET
WIDE: Final = RIGHT - LEFT - 2 * INSET
LABELS: Final = 54.0
BLOCK_TOP: Final = 196.0
QR_SIDE: Final = 34.0
SIGNATURE_RIGHT: Final = 106.0
PRODUCER: Final = "fpdf2"


class UnprintableError(Exception):
    """The fonts lack a letter that the record must show; `letter` and `text` say which and where."""

    def __init__(self, letter: str, text: str) -> None:
        super().__init__(f"the fonts lack {letter!r} (U+{ord(letter):04X}), which stands in {text!r}")
        self.letter = letter
        self.text = text


def record_pdf(record: CompletionRecord) -> bytes:
    """Give the record's sheet as PDF bytes, in the record's language.

    Raises:
        UnprintableError: A letter of a name or title is in neither font.
    """
    with translation.override(record.language):
        paper = _Paper(sheet_of(record))
        paper.draw()
        return paper.finished()


@lru_cache(maxsize=1)
def _letters() -> frozenset[int]:
    found = [frozenset(TTFont(FONTS / f"Inter-{weight}.ttf").getBestCmap() or ()) for weight in ("Regular", "Bold")]
    return found[0] & found[1]


def printable(text: str) -> str:
    """Give the text with accents joined to their letters.

    Raises:
        UnprintableError: The fonts lack one of its letters.
    """
    joined = unicodedata.normalize("NFC", text)
    for letter in joined:
        if ord(letter) not in _letters():
            raise UnprintableError(letter, text)
    return joined


class _Paper:
    """One sheet while it is drawn."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        record = sheet.record
        self.pdf = FPDF(format="letter", unit="mm", enforce_compliance=DocumentCompliance.PDFA_3B)
        self.pdf.set_auto_page_break(auto=False)
        self.pdf.set_margin(0)
        for style, weight in (("", "Regular"), ("B", "Bold")):
            self.pdf.add_font(FAMILY, style, FONTS / f"Inter-{weight}.ttf")
        self.pdf.set_lang("es-US" if record.language.startswith("es") else "en-US")
        self._describe(
            title=printable(f"{_('Completion record')} {record.serial}: {sheet.title}"),
            subject=printable(sheet.statement),
            author=printable(sheet.company),
        )

    def _describe(self, *, title: str, subject: str, author: str) -> None:
        at = self.sheet.record.issued_at
        self.pdf.set_title(title)
        self.pdf.set_subject(subject)
        self.pdf.set_author(author)
        self.pdf.set_creator(PRODUCER)
        self.pdf.set_producer(PRODUCER)
        self.pdf.set_creation_date(at)
        self.pdf.set_xmp_metadata(packet(title=title, subject=subject, author=author, producer=PRODUCER, at=at))

    def finished(self) -> bytes:
        """Attach the document and the names that it binds, and give the bytes."""
        record = self.sheet.record
        self._attach("record.json", record.document.text, _("The record's document; the register holds its SHA-256"))
        sealed = queries.sealed_row(record.holder_digest)
        if sealed is not None:
            names = json.dumps({"salt": sealed.salt, "text": sealed.text}, ensure_ascii=False)
            self._attach("name.json", names, _("The name as printed; SHA-256 of salt and text stands in record.json"))
        return bytes(self.pdf.output())

    def _attach(self, name: str, text: str, what: str) -> None:
        at = self.sheet.record.issued_at
        self.pdf.embed_file(
            bytes=text.encode(),
            basename=name,
            desc=what,
            creation_date=at,
            modification_date=at,
            mime_type="application/json",
            associated_file_relationship="Data",
            compress=True,
        )

    # ---------------------------------------------------------------------------------------------------- the sheet
    def draw(self) -> None:
        """Draw frame, head, lines, signature box and title block."""
        self.pdf.add_page()
        self._frame()
        y = self._head()
        y = self._lines(y + 5)
        if self.sheet.revoked:
            self._notice(y + 3)
        self._signature_box()
        self._title_block()
        self._verify()

    def _frame(self) -> None:
        self.pdf.set_draw_color(0)
        self.pdf.set_line_width(0.8)
        self.pdf.rect(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP)
        self.pdf.set_line_width(0.25)
        self.pdf.rect(LEFT + 1.6, TOP + 1.6, RIGHT - LEFT - 3.2, BOTTOM - TOP - 3.2)

    def _head(self) -> float:
        y = self._text(_("Completion record").upper(), INNER, TOP + 7, WIDE, size=9, height=5, spread=0.4)
        y = self._fitted(self.sheet.name, y + 3, sizes=(26, 22, 18, 15), style="B")
        if self.sheet.number:
            number = _("Company number %(number)s") % {"number": self.sheet.number}
            y = self._text(number, INNER, y + 0.5, WIDE, size=9, height=5)
        y = self._text(_("has completed"), INNER, y + 3, WIDE, size=11, height=6)
        y = self._fitted(self.sheet.title, y + 1, sizes=(18, 15, 13), style="B")
        y = self._text(_capital(self.sheet.statement) + ".", INNER, y + 2, WIDE, size=10, height=5)
        self.pdf.set_line_width(0.4)
        self.pdf.line(LEFT + 1.6, y + 4, RIGHT - 1.6, y + 4)
        return y + 4

    def _lines(self, y: float) -> float:
        room = BLOCK_TOP - 6 - y - (14 if self.sheet.revoked else 0)
        for size in (10.0, 9.0, 8.0, 7.0):
            if self._height(size) <= room:
                break
        for line in self.sheet.lines:
            y = self._line(line, y, size)
        return y

    def _line(self, line: Line, y: float, size: float) -> float:
        height = size * 0.5
        bottom = self._text(line.label, INNER, y, LABELS - 2, size=size, height=height, style="B")
        for value in line.values:
            y = self._text(value, INNER + LABELS, y, WIDE - LABELS, size=size, height=height)
        y = max(y, bottom)
        self.pdf.set_line_width(0.1)
        self.pdf.line(INNER, y + 0.8, INNER + WIDE, y + 0.8)
        return y + 1.9

    def _height(self, size: float) -> float:
        total = 0.0
        for line in self.sheet.lines:
            values = sum(self._count(value, WIDE - LABELS, size) for value in line.values)
            total += max(values, self._count(line.label, LABELS - 2, size, "B")) * size * 0.5 + 1.9
        return total

    def _count(self, text: str, width: float, size: float, style: str = "") -> int:
        """Count the lines that a text takes when it is wrapped."""
        self.pdf.set_font(FAMILY, style, size)
        lines = self.pdf.multi_cell(width, size * 0.5, printable(text), dry_run=True, output="LINES", align="L")
        return len(cast("list[str]", lines))

    def _notice(self, y: float) -> None:
        self.pdf.set_line_width(0.8)
        self.pdf.rect(INNER, y, WIDE, 11)
        self._text(self.sheet.revoked, INNER + 3, y + 2.8, WIDE - 6, size=11, height=5.5, style="B")

    # --------------------------------------------------------------------------------- signature box and title block
    def _signature_box(self) -> None:
        self.pdf.set_line_width(0.4)
        self.pdf.rect(LEFT + 1.6, BLOCK_TOP, SIGNATURE_RIGHT - LEFT - 1.6, BOTTOM - 1.6 - BLOCK_TOP)
        width = SIGNATURE_RIGHT - INNER - 4
        self._text(
            _("Signature of the trainer or the employer"), INNER, BLOCK_TOP + 3, width, size=8, height=4, style="B"
        )
        self._rule(INNER, BLOCK_TOP + 24, width)
        if self.sheet.signer:
            self._text(self.sheet.signer, INNER, BLOCK_TOP + 25, width, size=9, height=4.5)
        self._text(_("Date"), INNER, BLOCK_TOP + 33, width, size=8, height=4, style="B")
        self._rule(INNER, BLOCK_TOP + 43, width / 2)
        caution = _(
            "Not a license and no safety certification. Local codes, the specification and the maker's printed"
            " instructions come first."
        )
        y = self._text(caution, INNER, BLOCK_TOP + 46.5, width, size=7.5, height=3.8)
        y = self._text("SHA-256", INNER, y + 1.5, width, size=5.6, height=2.6)
        self._text(self.sheet.record.document.digest, INNER, y, width, size=5.6, height=2.6)

    def _rule(self, x: float, y: float, width: float) -> None:
        self.pdf.set_line_width(0.3)
        self.pdf.line(x, y, x + width, y)

    def _title_block(self) -> None:
        left, right = SIGNATURE_RIGHT, RIGHT - 1.6
        height = (BOTTOM - 1.6 - BLOCK_TOP - QR_SIDE - 2) / (len(self.sheet.block) + 0.5)
        self.pdf.set_line_width(0.4)
        y = BLOCK_TOP
        for number, line in enumerate(self.sheet.block):
            tall = height * (1.5 if number == 0 else 1)  # the company's name may take two lines
            self.pdf.rect(left, y, right - left, tall)
            self._text(line.label, left + 2, y + 1.9, 32, size=7.5, height=3.8, style="B")
            self._boxed(line.values[0], left + 35, y, right - left - 37, tall)
            y += tall

    def _verify(self) -> None:
        left, top = SIGNATURE_RIGHT, BOTTOM - 1.6 - QR_SIDE - 2
        self.pdf.set_line_width(0.4)
        self.pdf.rect(left, top, RIGHT - 1.6 - left, QR_SIDE + 2)
        address = self.sheet.address
        picture = io.BytesIO()
        segno.make_qr(address, error="q").save(picture, kind="png", scale=10, border=4)
        picture.seek(0)
        alt = _("QR code of %(address)s") % {"address": address}
        self.pdf.image(picture, left + 1, top + 1, QR_SIDE, QR_SIDE, alt_text=alt)
        x, width = left + QR_SIDE + 3, RIGHT - 1.6 - left - QR_SIDE - 5
        y = self._text(_("Verify this record"), x, top + 4, width, size=9, height=4.5, style="B")
        y = self._text(address, x, y + 1, width, size=7.5, height=3.8)
        self._text(
            _("The page there says whether it still holds, and is the form for screen readers."),
            x,
            y + 1.5,
            width,
            size=7.5,
            height=3.8,
        )

    # ------------------------------------------------------------------------------------------------------- letters
    def _text(
        self,
        text: str,
        x: float,
        y: float,
        width: float,
        *,
        size: float,
        height: float,
        style: str = "",
        spread: float = 0,
    ) -> float:
        """Write wrapped text and give the y below it."""
        self.pdf.set_font(FAMILY, style, size)
        self.pdf.set_char_spacing(spread)
        self.pdf.set_xy(x, y)
        self.pdf.multi_cell(width, height, printable(text), align="L", new_x="LEFT", new_y="NEXT", padding=0)
        self.pdf.set_char_spacing(0)
        return float(self.pdf.get_y())

    def _fitted(self, text: str, y: float, *, sizes: tuple[float, ...], style: str) -> float:
        """Write text on one line at the largest size that fits, else wrapped at the smallest."""
        for size in sizes:
            self.pdf.set_font(FAMILY, style, size)
            if self.pdf.get_string_width(printable(text)) <= WIDE - 2:
                break
        return self._text(text, INNER, y, WIDE, size=size, height=size * 0.45, style=style)

    def _boxed(self, text: str, x: float, y: float, width: float, height: float) -> None:
        """Write text in the middle of a box's height, smaller and on more lines where it would not fit."""
        for size in (10.0, 9.0, 8.0, 7.0, 6.0, 5.0):
            needed = self._count(text, width, size) * size * 0.45
            if needed <= height - 1:
                break
        self._text(text, x, y + (height - needed) / 2, width, size=size, height=size * 0.45)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
