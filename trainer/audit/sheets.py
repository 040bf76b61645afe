"""The matrix as CSV and XLSX, with every cell that a spreadsheet would run made harmless."""

import csv
import io
import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final
from zoneinfo import ZoneInfo

from django.utils.translation import gettext as _
from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from trainer.audit.queries import AsOf, Column, Row
from trainer.base import clock
from trainer.people.models import Company
from trainer.records.models import RegisterHead

Value = str | int | date
# What a spreadsheet takes for the start of a formula, also after blanks; the wide forms are typed by some keyboards.
RUNS: Final = re.compile(r"^\s*[=+\-@\t\r\n＝＋－＠]|^[\t\r\n]")
CONTROL: Final = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f]")


@dataclass(frozen=True)
class Table:
    """Headings and rows of text, whole numbers and days, and what the table is of."""

    headings: list[str]
    rows: list[list[Value]]
    about: list[tuple[str, Value]]


def defused(text: str) -> str:
    """Give a text that no spreadsheet runs: one that would start a formula gets an apostrophe before it."""
    clean = CONTROL.sub("", text)
    return f"'{clean}" if RUNS.match(clean) else clean


def table_of(
    company: Company, across: list[Column], rows: Iterable[Row], as_of: AsOf, head: RegisterHead | None
) -> Table:
    """Lay the matrix out: a person a row; state and last day of each qualification and module."""
    headings = [_("Name"), _("Company number"), _("Crews")]
    for column in across:
        headings += [column.title, _("%(title)s: valid until") % {"title": column.title}]
    body: list[list[Value]] = []
    for row in rows:
        line: list[Value] = [row.name, row.number, row.crews]
        for cell in row.cells:
            line += [cell.words, _("no end") if cell.without_end else cell.valid_until or ""]
        body.append(line)
    return Table(headings, body, _about(company, as_of, head))


def _about(company: Company, as_of: AsOf, head: RegisterHead | None) -> list[tuple[str, Value]]:
    known = as_of.known_at or clock.now()
    return [
        (_("Company"), company.name),
        (_("As of"), as_of.on),
        (_("As known at"), _minute(known, company)),
        (_("Register entries"), 0 if head is None else head.size),
        (_("Register root"), "" if head is None else head.root),
    ]


def _minute(at: datetime, company: Company) -> str:
    return at.astimezone(ZoneInfo(company.time_zone)).strftime("%Y-%m-%d %H:%M %Z")


def csv_bytes(table: Table) -> bytes:
    """Give the table as CSV: UTF-8 with its mark, days as YYYY-MM-DD; the last columns repeat what it is of."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow([defused(text) for text in [*table.headings, *(label for label, _value in table.about)]])
    for row in table.rows:
        writer.writerow([_csv_cell(value) for value in [*row, *(value for _label, value in table.about)]])
    return out.getvalue().encode("utf-8-sig")


def _csv_cell(value: Value) -> str:
    return defused(value) if isinstance(value, str) else str(value)


def xlsx_bytes(table: Table) -> bytes:
    """Give the table as a workbook: days are dates, all text is text, nothing is a formula."""
    book = Workbook()
    sheet = book.active
    if not isinstance(sheet, Worksheet):
        raise TypeError(f"a new workbook has {sheet!r} for a sheet")
    sheet.title = _("Matrix")
    _fill(sheet, [list(table.headings), *table.rows])
    for number, heading in enumerate(table.headings, start=1):
        sheet.cell(1, number).font = Font(bold=True)
        sheet.column_dimensions[get_column_letter(number)].width = max(14, min(40, len(heading) + 2))
    sheet.freeze_panes = "B2"
    about = book.create_sheet(_("About"))
    _fill(about, [list(pair) for pair in table.about])
    about.column_dimensions["A"].width = 24
    about.column_dimensions["B"].width = 70
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _fill(sheet: Worksheet, rows: list[list[Value]]) -> None:
    for y, row in enumerate(rows, start=1):
        for x, value in enumerate(row, start=1):
            cell = sheet.cell(y, x)
            if isinstance(value, str):
                cell.value = CONTROL.sub("", value)
                cell.data_type = "s"  # the library takes a text that starts with = for a formula
                cell.quotePrefix = bool(RUNS.match(cell.value))
            else:
                cell.value = value
                if isinstance(value, date):
                    cell.number_format = "yyyy-mm-dd"
