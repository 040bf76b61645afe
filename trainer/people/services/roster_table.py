"""Read the rows of a CSV or XLSX file, after a look at how much there is to read."""

import csv
import io
import re
import zipfile
import zlib
from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _
from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from trainer.people.services.roster_problem import Problem, RosterRefused

MOST_BYTES = 2 * 1024 * 1024
MOST_ROWS = 20_000  # blank ones too
MOST_COLUMNS = 20  # six are known
# What is looked for before a spreadsheet is read, for reading takes some 10 to 60 millionths of a second an element.
MOST_PARTS = 500
MOST_UNPACKED = 10 * 1024 * 1024
MOST_CELLS = 60_000  # with the rows
MOST_INSIDE = 300_000  # values and texts inside cells
MOST_OTHERS = 10_000  # elements of formatting and the like
MOST_SHEETS = 30  # each may name a part, even the same one, that is then read
MOST_LETTERS = 10_000  # of a cell: more than any column takes, so that its row is refused
CELLS = frozenset({b"c", b"row"})
LONG = re.compile(rb"[^<]{40000}")  # attributes without end in one element, or a text that is no name
INSIDE_CELLS = frozenset({b"f", b"is", b"r", b"si", b"t", b"v"})
ELEMENT = re.compile(rb"<(?:[^\s<>/:!?]+:)?([^\s<>/:!?]+)")
MARKUP = re.compile(rb"(?:\xef\xbb\xbf)?\s*<|\xff\xfe|\xfe\xff|\x00<")  # how XML begins, also in two bytes a letter
# What the library raises on the many ways in which a file can be no spreadsheet; a broken XML part is a SyntaxError.
UNREADABLE = (
    InvalidFileException,
    zipfile.BadZipFile,
    zlib.error,
    ArithmeticError,
    AttributeError,
    LookupError,
    NotImplementedError,
    OSError,
    EOFError,
    RuntimeError,
    SyntaxError,
    TypeError,
    ValueError,
)


def read_table(file_name: str, content: bytes) -> Iterator[tuple[int, list[str]]]:
    """Give the number and the cells of each row that is not blank, the first row in any case.

    Raises:
        RosterRefused: The file cannot be read, or it is larger, longer or wider than a roster; says the limit.
    """
    if len(content) > MOST_BYTES:
        raise _refused(_("The file is larger than 2 MB."), _("Save the people's sheet alone."))
    rows = _xlsx_rows(content) if file_name.lower().endswith(".xlsx") else _csv_rows(content)
    for count, (number, cells) in enumerate(rows, start=1):
        if count > MOST_ROWS:
            what = _("The file has more than 20,000 rows, blank ones included.")
            raise _refused(what, _("Delete the blank rows above and between the people."), number)
        if count == 1 and any(cells[MOST_COLUMNS:]):
            what = _("The file has more than 20 columns.")
            raise _refused(what, _("Leave only columns of a roster: name, number, email, language, roles, crew."), 1)
        if count == 1 or any(cells):
            yield number, cells[:MOST_COLUMNS]


def _refused(what: str, mend: str, row: int = 0) -> RosterRefused:
    return RosterRefused([Problem(row, "", what, mend)])


def _csv_rows(content: bytes) -> Iterator[tuple[int, list[str]]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")  # what spreadsheets on older machines save
    first = text.split("\n", 1)[0]
    delimiter = max(",;\t", key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    try:
        for cells in reader:
            yield reader.line_num, cells
    except csv.Error:
        what = _("Row %(row)s cannot be read.") % {"row": reader.line_num}
        raise _refused(what, _("Save the sheet as CSV again."), reader.line_num) from None


def _xlsx_rows(content: bytes) -> Iterator[tuple[int, list[str]]]:
    try:
        _refuse_too_much(content)
        sheet = load_workbook(io.BytesIO(content), read_only=True, data_only=True, keep_links=False).worksheets[0]
        sheet.reset_dimensions()  # the size that a file tells may be wrong, and what lies beyond it would be lost
        for number, cells in enumerate(sheet.iter_rows(values_only=True), start=1):
            yield number, [_cell_text(cell) for cell in cells]
    except UNREADABLE:
        what, mend = _("This is no spreadsheet that can be read."), _("Save it as XLSX or CSV and send it again.")
        raise _refused(what, mend) from None


def _refuse_too_much(content: bytes) -> None:
    """Count what the parts hold without reading them as XML.

    Raises:
        RosterRefused: There is more than a roster has.
        ValueError: A part is written so that counting would miss something.
    """
    mend = _("Copy the people's rows alone into a new workbook without formatting, or save the sheet as CSV.")
    with zipfile.ZipFile(io.BytesIO(content)) as packed:
        parts = packed.infolist()
        if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
            raise _refused(_("The spreadsheet unpacks to more than 10 MB or 500 parts."), mend)
        cells = inside = others = sheets = 0
        for text in map(packed.read, parts):
            if not MARKUP.match(text):  # a picture, or settings of a printer: a sheet may have any name, so look inside
                continue
            if b"\x00" in text or b"<!DOCTYPE" in text or LONG.search(text):
                raise ValueError
            for found in ELEMENT.finditer(text):
                cells += found[1] in CELLS
                inside += found[1] in INSIDE_CELLS
                others += found[1] not in CELLS and found[1] not in INSIDE_CELLS
                sheets += found[1] == b"sheet"
                if cells > MOST_CELLS or inside > MOST_INSIDE or others > MOST_OTHERS:
                    break
        if cells > MOST_CELLS or inside > MOST_INSIDE:
            raise _refused(
                _("The spreadsheet has more than 60,000 cells and rows, formatted blank ones included."), mend
            )
        if others > MOST_OTHERS:
            raise _refused(_("The spreadsheet holds more than 10,000 pieces of formatting."), mend)
        if sheets > MOST_SHEETS:
            raise _refused(_("The spreadsheet has more than 30 sheets."), mend)


def _cell_text(cell: Any) -> str:
    if cell is None:
        return ""
    return str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell)[:MOST_LETTERS]
