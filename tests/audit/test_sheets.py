"""The matrix as files: typed days, and nothing that a spreadsheet would run."""

import csv
from collections.abc import Callable
from datetime import date, datetime
from io import BytesIO, StringIO
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from openpyxl import load_workbook

from tests import factories
from tests.records import scene
from trainer.audit.sheets import Table, csv_bytes, defused, xlsx_bytes
from trainer.base import clock
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.records.models import RegisterHead

SignIn = Callable[[Member], Client]
FORMULAS = [
    '=HYPERLINK("http://x.example","pay")',
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "  =1",
    "\n-1",
    "\u00a0=1",
    "＝1+1",
    "\x00=1",
]


@pytest.fixture(autouse=True)
def _day() -> Any:
    """Let every file be made at noon of March 1, 2026."""
    with clock.fixed(scene.at(date(2026, 3, 1))):
        yield


@pytest.mark.parametrize("text", FORMULAS)
def test_it_defuses_what_a_spreadsheet_runs(text: str) -> None:
    """An apostrophe stands before every text that would start a formula, blanks or not."""
    assert defused(text).startswith("'")


@pytest.mark.parametrize("text", ["Ann Lee", "A-1077", "José = Pepe", "'=1", ""])
def test_it_leaves_other_texts_alone(text: str) -> None:
    """Names and numbers stay as they are."""
    assert defused(text) == text


@pytest.mark.parametrize("text", FORMULAS)
def test_it_writes_no_formula_into_either_file(text: str) -> None:
    """Headings and cells of both files are text, whatever somebody is called."""
    table = Table([text], [[text]], [(text, text)])

    for row in csv.reader(StringIO(csv_bytes(table).decode("utf-8-sig"), newline="")):
        assert all(cell.startswith("'") for cell in row)
    for sheet in load_workbook(BytesIO(xlsx_bytes(table))).worksheets:
        for row in sheet.iter_rows():
            assert all(cell.data_type != "f" for cell in row)


def test_its_csv_has_a_person_a_row_and_says_what_it_is_of(office: Member, company: Company, sign_in: SignIn) -> None:
    """Spanish letters survive, days are YYYY-MM-DD, and day and register root stand in each row."""
    hand = factories.member(company, name="José Ángel Núñez", number="=7")
    scene.record(hand, day=date(2026, 1, 31))

    answer = sign_in(office).get(reverse("matrix-csv", kwargs={"company": company.slug}))

    assert answer.content.startswith(b"\xef\xbb\xbf")
    assert 'filename="matrix-own-2026-03-01.csv"' in answer["Content-Disposition"]
    [row] = csv.DictReader(StringIO(answer.content.decode("utf-8-sig"), newline=""))
    assert row["Name"] == "José Ángel Núñez"
    assert row["Company number"] == "'=7"
    assert row["Base sheet layout and laps"] == "current"
    assert row["Base sheet layout and laps: valid until"] == "2028-01-31"
    assert (row["As of"], row["As known at"]) == ("2026-03-01", "2026-03-01 12:00 CST")
    assert row["Register root"] == RegisterHead.objects.get(company=company).root


def test_its_workbook_holds_days_as_days(office: Member, company: Company, sign_in: SignIn) -> None:
    """The last day is a date that can be sorted; the second sheet says what the first is of."""
    scene.record(factories.member(company, name="=cmd()", number="007"), day=date(2026, 1, 31))

    answer = sign_in(office).get(reverse("matrix-xlsx", kwargs={"company": company.slug}))

    book = load_workbook(BytesIO(answer.content))
    heading, row = book["Matrix"].iter_rows()
    values = {str(name.value): cell for name, cell in zip(heading, row, strict=True)}
    assert values["Name"].value == "=cmd()"
    assert values["Name"].data_type == "s"
    assert values["Name"].quotePrefix
    assert values["Company number"].value == "007"
    day = values["Base sheet layout and laps: valid until"]
    assert (day.value, day.is_date) == (datetime(2028, 1, 31), True)  # noqa: DTZ001  workbooks know no time zones
    about = {label.value: value.value for label, value in book["About"].iter_rows()}
    assert about["Register entries"] == 1
    assert about["Company"] == company.name


def test_its_files_take_the_filters_of_the_page(office: Member, company: Company, sign_in: SignIn) -> None:
    """Search and day narrow the files as they narrow the page; all pages are in the file."""
    for number in range(55):
        factories.member(company, name=f"Hand {number:02d}")
    client, address = sign_in(office), reverse("matrix-csv", kwargs={"company": company.slug})

    def names(**asked: str) -> list[str]:
        text = client.get(address, asked).content.decode("utf-8-sig")
        return [row["Name"] for row in csv.DictReader(StringIO(text, newline=""))]

    assert len(names()) == 55
    assert names(search="Hand 07") == ["Hand 07"]
    assert names(on="2019-12-31") == []
