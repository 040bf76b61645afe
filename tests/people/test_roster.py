"""Taking in a roster: every bad row is named, and all of it comes in or nothing."""

import io
import json
import zipfile
from collections.abc import Callable
from contextlib import suppress
from typing import Any
from unittest import mock

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook
from openpyxl.styles import Font

from tests.factories import client_for
from trainer.people import queries, services
from trainer.people.access import Member
from trainer.people.models import Account, Company, Crew, Membership
from trainer.people.services import roster_table
from trainer.people.services.roster_file import RosterRow
from trainer.people.services.roster_problem import RosterRefused

HEAD = "name,number,email,language,roles,crew\n"
GOOD = HEAD + "Ana Ruiz,41,,Spanish,trainee,Crew A\nBen Olsen,42,,English,foreman,Crew West\nCleo May,,,,,\n"


def read(text: str, name: str = "roster.csv") -> list[RosterRow]:
    """Read a roster from text."""
    return services.read_roster(name, text.encode())


def problems(call: Any, *args: Any, **kwargs: Any) -> list[tuple[int, str]]:
    """Give (row, column) of each problem that a call is refused for."""
    with pytest.raises(RosterRefused) as refused:
        call(*args, **kwargs)
    assert all(problem.what and problem.mend for problem in refused.value.problems)
    return [(problem.row, problem.column) for problem in refused.value.problems]


def workbook(rows: list[list[Any]]) -> bytes:
    """Give an XLSX file with these rows."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in rows:
        sheet.append(row)
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def repacked(part: str, instead: bytes) -> bytes:
    """Give an XLSX file with one part of it replaced."""
    file = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook([["name"], ["Ana"]]))) as whole, zipfile.ZipFile(file, "w", 8) as made:
        for name in {*whole.namelist(), part}:
            made.writestr(name, instead if name == part else whole.read(name))
    return file.getvalue()


def test_it_reads_csv() -> None:
    """Each row becomes a person; what is left out is the usual."""
    rows = read(GOOD)

    assert rows[0] == RosterRow(2, "Ana Ruiz", "41", "", "es-us", ("trainee",), "Crew A")
    assert rows[2] == RosterRow(4, "Cleo May", "", "", "en-us", ("trainee",), "")


@pytest.mark.parametrize("separator", [",", ";", "\t"], ids=["comma", "semicolon", "tab"])
def test_it_reads_what_spreadsheets_save(separator: str) -> None:
    """Whatever a spreadsheet of another country parts the cells with."""
    assert read(GOOD.replace(",", separator)) == read(GOOD)


def test_it_reads_the_letters_of_older_spreadsheets() -> None:
    """A file in the Windows code page keeps its accents; one with a byte-order mark keeps its first heading."""
    old = services.read_roster("r.csv", "nombre\nJosé Núñez\n".encode("cp1252"))
    marked = services.read_roster("r.csv", "nombre\nJosé Núñez\n".encode("utf-8-sig"))

    assert old == marked == [RosterRow(2, "José Núñez")]


def test_it_reads_spanish_headings_and_words() -> None:
    """A roster kept in Spanish needs no other headings."""
    rows = read("Nombre,Número,Idioma,Funciones,Cuadrilla\nAna,1,español,capataz aprendiz,Norte\n")

    assert rows == [RosterRow(2, "Ana", "1", "", "es-us", ("foreman", "trainee"), "Norte")]


def test_it_reads_xlsx_with_numbers_as_they_look() -> None:
    """A number that the spreadsheet keeps as 41.0 is 41; empty rows are passed over."""
    content = workbook([["name", "number"], ["Ana", 41.0], [None, None], ["Ben", 42]])

    assert services.read_roster("Roster.XLSX", content) == [RosterRow(2, "Ana", "41"), RosterRow(4, "Ben", "42")]


def test_it_names_every_bad_row_of_the_file() -> None:
    """Not the first one alone: all are mended in one go."""
    text = (
        HEAD + ",1,,,,\nAna,2,not an address,,,\nBen,3,,French,,\nCleo,4,,,boss,\n" + f"{'x' * 121},5,,,,{'c' * 61}\n"
    )

    assert problems(read, text) == [
        (2, "name"),
        (3, "email"),
        (4, "language"),
        (5, "roles"),
        (6, "name"),
        (6, "crew"),
    ]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("", [(1, "name")]),
        ("first name\nAna\n", [(1, "first name"), (1, "name")]),
        ("name,name\nAna,Ben\n", [(1, "name")]),
        ("name\n\n", [(1, "")]),
    ],
    ids=["empty", "unknown heading", "heading twice", "nobody"],
)
def test_it_refuses_files_without_people(text: str, found: list[tuple[int, str]]) -> None:
    """The first row says what is what."""
    assert problems(read, text) == found


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 no spreadsheet", b"name\nAna\n"], ids=["empty", "broken", "csv"])
def test_it_refuses_a_broken_spreadsheet(content: bytes) -> None:
    """A file that says XLSX and is none gets a sentence."""
    assert problems(services.read_roster, "roster.xlsx", content) == [(0, "")]


def test_it_refuses_large_files() -> None:
    """Size is looked at before the file is."""
    assert problems(services.read_roster, "r.csv", b"name\n" + b"A" * (2 * 1024 * 1024)) == [(0, "")]
    assert problems(read, "name\n" + "Ana\n" * 2001) == [(2002, "")]


@given(content=st.binary(max_size=300), name=st.sampled_from(["r.csv", "r.xlsx"]))
def test_it_reads_or_refuses_any_bytes(content: bytes, name: str) -> None:
    """No file makes it fail otherwise."""
    with suppress(RosterRefused):
        assert services.read_roster(name, content)


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/workbook.xml", "[Content_Types].xml"])
def test_it_refuses_a_spreadsheet_with_a_broken_part(part: str) -> None:
    """A damaged file gets a sentence, wherever the damage is."""
    assert problems(services.read_roster, "roster.xlsx", repacked(part, b"<worksheet><sheetData><row><c")) == [(0, "")]


def test_it_refuses_a_spreadsheet_that_unpacks_to_much() -> None:
    """A small file that would fill the memory is not unpacked."""
    content = repacked("xl/sharedStrings.xml", b" " * (21 * 1024 * 1024))

    assert len(content) < 2 * 1024 * 1024
    assert problems(services.read_roster, "roster.xlsx", content) == [(0, "")]


SHEET = "xl/worksheets/sheet1.xml"
MAIN = b'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
HEADED = b"<worksheet " + MAIN + b'><sheetData><row><c t="inlineStr"><is><t>name</t></is></c></row>'
END = b"</sheetData></worksheet>"


def filled(part: str, before: bytes, piece: bytes, count: int, after: bytes) -> bytes:
    """Give an XLSX file with one part that holds a piece many times over."""
    return repacked(part, before + piece * count + after)


def of_many_parts() -> bytes:
    """Give a file of thousands of empty parts."""
    file = io.BytesIO(repacked(SHEET, HEADED + END))
    with zipfile.ZipFile(file, "a", 8) as made:
        for number in range(5_000):
            made.writestr(f"part{number}.xml", "")
    return file.getvalue()


def renamed(name: str, content: bytes) -> bytes:
    """Give an XLSX file whose sheet is a part of another name, with this content."""
    file = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook([]))) as whole, zipfile.ZipFile(file, "w", 8) as made:
        for part in whole.namelist():
            text = content if part == SHEET else whole.read(part).replace(b"sheet1.xml", name.encode())
            made.writestr(part.replace("sheet1.xml", name), text)
    return file.getvalue()


def of_sheets(count: int) -> bytes:
    """Give an XLSX file whose workbook names its one sheet many times."""
    sheet = b'<sheet name="a" sheetId="1" r:id="rId1"/>'
    xmlns = b' xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"'
    return repacked(
        "xl/workbook.xml", b"<workbook " + MAIN + xmlns + b"><sheets>" + sheet * count + b"</sheets></workbook>"
    )


MANY_CELLS = HEADED + b"<row>" + b"<c/>" * 1_000_000 + b"</row>" + END
TOO_MUCH = {
    "sheet by another name": (lambda: renamed("sheet1.bin", MANY_CELLS), "60,000 cells"),
    "space before a sheet by another name": (lambda: renamed("sheet1", b"\xef\xbb\xbf\n" + MANY_CELLS), "60,000 cells"),
    "two bytes a letter by another name": (
        lambda: renamed("a.png", (HEADED + END).decode().encode("utf-16-be")),
        "no spreadsheet",
    ),
    "one sheet many times": (lambda: of_sheets(3_000), "30 sheets"),
    "wide row": (lambda: filled(SHEET, HEADED + b"<row>", b"<c/>", 1_000_000, b"</row>" + END), "60,000 cells"),
    "other prefix": (lambda: filled(SHEET, HEADED + b"<row>", b"<x:c/>", 1_000_000, b"</row>" + END), "60,000 cells"),
    "blank rows": (lambda: filled(SHEET, HEADED, b"<row/>", 1_000_000, END), "60,000 cells"),
    "texts": (lambda: filled("xl/sharedStrings.xml", b"<sst>", b"<si/>", 1_000_000, b"</sst>"), "60,000 cells"),
    "formats": (lambda: filled("xl/styles.xml", b"<styleSheet>", b"<xf/>", 1_000_000, b""), "10,000 pieces"),
    "attributes": (lambda: filled(SHEET, HEADED + b"<row ", b'a="" ', 200_000, b"/>" + END), "no spreadsheet"),
    "entities": (lambda: repacked(SHEET, b'<!DOCTYPE a [<!ENTITY b "b">]>' + HEADED + END), "no spreadsheet"),
    "two bytes a letter": (lambda: repacked(SHEET, (HEADED + END).decode().encode("utf-16")), "no spreadsheet"),
    "parts": (of_many_parts, "500 parts"),
    "row far down": (lambda: repacked(SHEET, HEADED + b'<row r="999999"><c/></row>' + END), "20,000 rows"),
    "wide heading": (lambda: workbook([["name", *[""] * 19, "number"], ["Ana"]]), "20 columns"),
}


def test_it_reads_a_sheet_by_another_name_and_thirty_sheets() -> None:
    """What the limits let through is read: a sheet whose part is called otherwise, pictures beside it, 30 sheets."""
    sheet = HEADED + b'<row><c t="inlineStr"><is><t>Ana</t></is></c></row>' + END
    content = io.BytesIO(renamed("sheet1.bin", sheet))
    with zipfile.ZipFile(content, "a", 8) as made:
        made.writestr("xl/media/image1.png", b"\x89PNG\r\n" + b"\x00\x01" * 50_000)

    assert [row.name for row in services.read_roster("roster.xlsx", content.getvalue())] == ["Ana"]
    assert [row.name for row in services.read_roster("roster.xlsx", of_sheets(30))] == ["Ana"]


@pytest.mark.parametrize(("make", "says"), TOO_MUCH.values(), ids=TOO_MUCH.keys())
def test_it_refuses_a_spreadsheet_before_reading_what_takes_long(make: Callable[[], bytes], says: str) -> None:
    """A file of some kilobytes cannot hold the server: what it holds is counted first, and the limit is told."""
    with (
        pytest.raises(RosterRefused) as refused,
        mock.patch.object(roster_table, "load_workbook", wraps=load_workbook) as opened,
    ):
        services.read_roster("roster.xlsx", make())

    [problem] = refused.value.problems
    assert says in problem.what
    assert problem.mend
    assert opened.called == (says in ("20,000 rows", "20 columns"))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name\n" + "\n" * 1_000_000, "20,000 rows"),
        ("name\n" + " \n" * 500_000, "20,000 rows"),
        ("a," * 500_000, "20 columns"),
    ],
    ids=["blank rows", "rows of blanks", "wide heading"],
)
def test_it_refuses_a_csv_file_that_is_no_roster(text: str, says: str) -> None:
    """One sentence that names the limit, not a page of half a million problems."""
    with pytest.raises(RosterRefused) as refused:
        read(text)

    [problem] = refused.value.problems
    assert says in problem.what


def test_it_reads_a_roster_of_the_most_people() -> None:
    """2,000 people in the 26 formatted columns that some spreadsheets save stay within the limits."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["name", "number", "email", "language", "roles", "crew"])
    for number in range(2_000):
        sheet.append([f"Hand {number}", number, f"hand{number}@company.example", "Spanish", "trainee", "Crew A"])
        for column in range(7, 27):
            sheet.cell(row=number + 2, column=column).font = Font(bold=True)
    file = io.BytesIO()
    book.save(file)

    assert len(services.read_roster("roster.xlsx", file.getvalue())) == 2_000


def test_it_reads_only_letters_that_are_seen() -> None:
    """What copied text brings along is no part of a name, so the same name twice is noticed."""
    rows = read("name,number,crew\n\u202eAna\x00 Ruiz,\u200f41,Crew\u200b A\n")

    assert [(row.name, row.number, row.crew) for row in rows] == [("Ana Ruiz", "41", "Crew A")]


def test_it_reads_people_below_blank_rows() -> None:
    """Nobody is left out in silence because a spreadsheet leaves rows blank or tells a wrong size."""
    rows: list[list[Any]] = [["name"]]
    for number in range(1200):
        rows += [[f"Hand {number}"], []]
    sparse = workbook(rows)
    sheet = zipfile.ZipFile(io.BytesIO(sparse)).read("xl/worksheets/sheet1.xml")

    assert len(services.read_roster("r.xlsx", sparse)) == 1200
    small = repacked("xl/worksheets/sheet1.xml", sheet.replace(b'ref="A1:A2401"', b'ref="A1:A2"'))
    assert small != sparse
    assert len(services.read_roster("r.xlsx", small)) == 1200


def test_it_stops_reading_at_the_most_people() -> None:
    """A file of half a million bad rows is no page of half a million problems."""
    found = problems(read, "name,crew\n" + ",x\n" * 500_000)

    assert len(found) == 2002
    assert found[-1] == (2002, "")


@pytest.mark.django_db
class TestImport:
    """The rows against the company."""

    def test_it_adds_everybody(self, company: Company, crew: Crew, office: Member) -> None:
        """People, missing crews, places on crews; a foreman leads the crew of the row."""
        added = services.import_roster(company=company, rows=read(GOOD), by=office.account)
        places = {
            place.account.name: (place.crew.name, place.part) for place in queries.places_on(company, company.today())
        }

        assert [row.account.name for row in added] == ["Ana Ruiz", "Ben Olsen", "Cleo May"]
        assert places["Ana Ruiz"] == (crew.name, "member")
        assert places["Ben Olsen"] == ("Crew West", "lead")
        assert "Cleo May" not in places

    def test_it_adds_nobody_when_one_row_is_bad(self, company: Company, office: Member) -> None:
        """All or nothing: the good rows of a bad roster stay out, and so do its crews."""
        services.add_person(company=company, name="Old Hand", roles=["trainee"], by=None, number="42")
        before = (Membership.objects.count(), Account.objects.count(), Crew.objects.count())

        found = problems(services.import_roster, company=company, rows=read(GOOD), by=office.account)

        assert found == [(3, "number")]
        assert (Membership.objects.count(), Account.objects.count(), Crew.objects.count()) == before

    def test_it_rolls_back_when_a_service_refuses(
        self, company: Company, office: Member, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """What only the last step notices undoes the first ones too."""
        monkeypatch.setattr("trainer.people.services.roster.check_roster", lambda *_args: [])
        services.add_person(company=company, name="Old Hand", roles=["trainee"], by=None, number="42")
        before = Membership.objects.count()

        assert problems(services.import_roster, company=company, rows=read(GOOD), by=office.account) == [(3, "number")]
        assert Membership.objects.count() == before

    def test_it_compares_rows_with_one_another_and_the_company(self, company: Company, office: Member) -> None:
        """Two rows of one person, somebody who is there already, staff without an address, one role too high."""
        services.add_person(company=company, name="Old Hand", roles=["trainee"], by=None, email="old@company.example")
        text = HEAD + (
            "Ana,1,,,,\nBen,1,,,,\nold hand,,,,,\nX,,old@company.example,,,\nT,,,,trainer,\n"
            "Adm,,adm@company.example,,administrator,\n"
        )

        found = [
            (row.row, row.column) for row in services.check_roster(company, read(text), office.account, company.today())
        ]

        assert found == [(3, "number"), (4, "name"), (5, "email"), (6, "email"), (7, "roles")]

    def test_it_previews_then_adds(self, company: Company, office: Member) -> None:
        """The page shows what would be added; the second button adds it."""
        client, url = client_for(office), reverse("roster", args=[company.slug])
        day = company.today().isoformat()
        file = SimpleUploadedFile("roster.csv", GOOD.encode())
        preview = client.post(url, {"file": file, "effective_from": day})
        html = preview.content.decode()
        assert "3 people will belong" in html
        assert "Crew A, Crew West" in html
        assert not Membership.objects.filter(number="41").exists()

        answer = client.post(url, {"rows": preview.context["rows_text"], "effective_from": day})

        assert answer.headers["Location"] == reverse("people", args=[company.slug])
        assert Membership.objects.filter(company=company, number="41").exists()

    def test_it_shows_every_problem_and_keeps_the_day(self, company: Company, office: Member) -> None:
        """The page lists row, column, what and how to mend it, and the form is there for the mended file."""
        client, url = client_for(office), reverse("roster", args=[company.slug])
        file = SimpleUploadedFile("roster.csv", (HEAD + ",1,,,,\nBen,3,,French,,\n").encode())
        page = client.post(url, {"file": file, "effective_from": "2026-03-02"})
        html = page.content.decode()

        assert page.status_code == 422
        assert "2 things to mend first" in html
        assert "“French”" in html
        assert 'value="2026-03-02"' in html

    def test_it_takes_no_more_of_a_file_than_it_may_hold(
        self, company: Company, office: Member, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """A file of any size is refused without being read into memory whole."""
        taken: list[int] = []
        read_whole = services.read_roster

        def reading(name: str, content: bytes) -> list[RosterRow]:
            taken.append(len(content))
            return read_whole(name, content)

        monkeypatch.setattr(services, "read_roster", reading)
        file = SimpleUploadedFile("roster.csv", b"name\n" + b"A" * (5 * 1024 * 1024))
        url = reverse("roster", args=[company.slug])
        page = client_for(office).post(url, {"file": file, "effective_from": "2026-03-02"})

        assert page.status_code == 422
        assert "The file is larger than 2 MB." in page.content.decode()
        assert taken == [2 * 1024 * 1024 + 1]

    def test_it_trusts_no_forged_preview(self, company: Company, office: Member, administrator: Member) -> None:
        """What the second button sends back must be what this person was shown for this company."""
        url, day = reverse("roster", args=[company.slug]), company.today().isoformat()
        file = SimpleUploadedFile("roster.csv", GOOD.encode())
        shown = client_for(office).post(url, {"file": file, "effective_from": day}).context["rows_text"]
        before = Membership.objects.count()
        for client, rows in (
            (client_for(office), ""),
            (client_for(office), shown[:-1] + ("a" if shown[-1] != "a" else "b")),
            (client_for(administrator), shown),
        ):
            answer = client.post(url, {"rows": rows, "effective_from": day}, follow=True)
            assert "send the file again" in answer.content.decode()

        assert Membership.objects.count() == before

    def test_it_looks_again_when_the_company_changed_meanwhile(self, company: Company, office: Member) -> None:
        """Somebody else took a number between the preview and the button."""
        client, url, day = client_for(office), reverse("roster", args=[company.slug]), company.today().isoformat()
        file = SimpleUploadedFile("roster.csv", GOOD.encode())
        shown = client.post(url, {"file": file, "effective_from": day}).context["rows_text"]
        services.add_person(company=company, name="Quick", roles=["trainee"], by=None, number="41")

        answer = client.post(url, {"rows": shown, "effective_from": day})

        assert answer.status_code == 422
        assert "“41”" in answer.content.decode()

    def test_it_sends_rows_through_the_preview_unchanged(self) -> None:
        """Rows survive the way to the page and back."""
        rows = read(GOOD)
        back = [
            RosterRow(**{**row, "roles": tuple(row["roles"])})
            for row in json.loads(json.dumps([r.as_plain() for r in rows]))
        ]

        assert back == rows
