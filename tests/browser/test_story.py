"""The whole path in a real browser: assign, read, practice, sit, record, verify, audit."""

import csv
import io
import re
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from openpyxl import load_workbook
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from tests.browser.conftest import PHONE, Site
from tests.browser.filling import fill

MODULE = "base-sheet-layout"
HIRE = "Luz Marina Echeverría"
CREW = "Crew Heron"


def next_friday(today: date) -> date:
    """Give the Friday that ends the week, or today where it is one."""
    return today + timedelta(days=(4 - today.weekday()) % 7)


def assign(site: Site) -> None:
    """The trainer signs in and assigns the module to the crew, due Friday."""
    page = site.sign_in("dorothea@evenlap.example")
    page.get_by_role("button", name="Copperhollow Low-Slope Roofing").click()
    page.get_by_role("link", name="Assign a module").click()
    page.get_by_label("Module").select_option(label="Base sheet layout and laps")
    page.get_by_label("Crew").select_option(label=CREW)
    page.get_by_label("Due by the end of").fill(next_friday(date.today()).isoformat())
    page.get_by_role("button", name="Assign").click()
    expect(page.locator("#message")).to_contain_text(f"/lessons/{MODULE}/")
    expect(page.get_by_role("link", name=HIRE)).to_be_visible()


def read_lesson(page: Page, picture: Callable[[Page, str], None]) -> None:
    """The new hire reads the lesson, in Spanish, and says so."""
    picture(page, "story-today-es")
    page.get_by_role("link", name="Leer la lección").first.click()
    expect(page.locator("html")).to_have_attribute("lang", "es-us")
    expect(page.locator("figure.drawing").first).to_be_visible()
    picture(page, "story-lesson-es")
    page.get_by_role("button", name="Ya leí esto").click()


def practice(site: Site, page: Page, picture: Callable[[Page, str], None]) -> None:
    """The new hire practices: a wrong answer names the mistake; then right ones until the mistakes have stopped."""
    page.goto("/practice/")
    page.locator(f'form[action="/practice/{MODULE}/draw/"] button').click()
    for number in range(80):
        ref = page.url.rstrip("/").rsplit("/", 1)[1]
        told = site.ask("practice", ref)
        if number == 0:
            html = page.content()
            assert not [text for text in told["secret"] if text in html]
            fill(page, told["wrong"])
            page.get_by_role("button", name="Contestar").click()
            expect(page.get_by_role("heading", name="Incorrecto")).to_be_visible()
            picture(page, "story-practice-wrong-es")
        else:
            fill(page, told["right"])
            page.get_by_role("button", name="Contestar").click()
            expect(page.get_by_role("heading", name="Correcto", exact=True)).to_be_visible()
        if page.get_by_text("Ya no hay errores").count():
            picture(page, "story-practice-steady-es")
            return
        page.get_by_role("button", name="Siguiente pregunta").click()
    pytest.fail("the mistakes did not stop within 80 cases")


def sit(site: Site, page: Page, picture: Callable[[Page, str], None]) -> None:
    """The new hire sits the module check; after a closed browser it goes on where it was; passed."""
    page.goto(f"/exams/{MODULE}/start/")
    picture(page, "story-exam-start-es")
    page.locator("main form button").first.click()
    for number in range(1, 11):
        expect(page.get_by_role("heading", level=1)).to_contain_text(f"{number} de 10")
        sitting = page.url.split("/sittings/")[1].split("/")[0]
        told = site.ask("sheet", sitting, str(number))
        html = page.content()
        assert not [text for text in told["secret"] if text in html]
        fill(page, told["right"])
        if number == 3:
            picture(page, "story-exam-sheet-es")
            page.locator("button[value=next]").click()
            page.goto("about:blank")
            page.goto(f"/sittings/{sitting}/questions/4/")
            continue
        page.locator("button[value=next]").click()
    picture(page, "story-exam-table-es")
    page.get_by_role("button", name=re.compile("Terminar")).click()
    page.wait_for_url("**/result/")
    picture(page, "story-exam-result-es")


def take_record(page: Page, picture: Callable[[Page, str], None]) -> tuple[str, bytes]:
    """The new hire opens the record and its paper; give the verification code and the PDF."""
    page.goto("/my-record/")
    picture(page, "story-my-record-es")
    page.locator("main a[href*='/my-record/']").first.click()
    picture(page, "story-record-es")
    paper = page.locator("a[href$='/paper/']").first.get_attribute("href")
    pdf = page.request.get(paper or "").body()
    text = "".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(pdf)).pages)
    code = re.search(r"\b([0-9A-HJKMNP-TV-Z]{4}-?[0-9A-HJKMNP-TV-Z]{4}-?[0-9A-HJKMNP-TV-Z]{4})\b", text)
    assert code is not None, text
    assert HIRE in text
    return code[1], pdf


def test_it_goes_from_assignment_to_audit(site: Site, picture: Callable[[Page, str], None]) -> None:
    """A trainer assigns, a new hire learns and passes in Spanish on a phone, a stranger verifies, the office audits."""
    assign(site)
    hire = site.open_card(HIRE, size=PHONE, language="es-US")
    read_lesson(hire, picture)
    practice(site, hire, picture)
    sit(site, hire, picture)
    code, _pdf = take_record(hire, picture)

    stranger = site.visitor(size=PHONE)
    stranger.goto(f"/V/{code}")
    picture(stranger, "story-verify-en")
    expect(stranger.locator("main")).to_contain_text(HIRE)
    expect(stranger.locator("main")).to_contain_text("not a safety certification")

    office = site.sign_in("harriet@copperhollow.example")
    office.goto("/c/copperhollow/matrix/?search=Luz")
    picture(office, "story-matrix-en")
    row = office.get_by_role("row", name=re.compile(HIRE))
    expect(row).to_contain_text("current")
    expect(row).to_contain_text("not held")
    before = (date.today() - timedelta(days=3)).isoformat()
    office.goto(f"/c/copperhollow/matrix/?on={before}")
    expect(office.get_by_role("row", name=re.compile("Wendell"))).to_be_visible()
    expect(office.get_by_role("row", name=re.compile(HIRE))).to_have_count(0)
    table = office.request.get("/c/copperhollow/matrix.csv").body().decode("utf-8-sig")
    assert any(HIRE in ",".join(line) for line in csv.reader(io.StringIO(table)))
    book = load_workbook(io.BytesIO(office.request.get("/c/copperhollow/matrix.xlsx").body()))
    assert any(HIRE in str(cell.value) for sheet in book for line in sheet.iter_rows() for cell in line)

    foreman = site.sign_in("emmett@copperhollow.example", size=PHONE)
    foreman.goto("/c/copperhollow/my-crew/")
    picture(foreman, "story-my-crew-en")
    expect(foreman.locator("main")).to_contain_text(HIRE)
    expect(foreman.locator("main")).not_to_contain_text("Fermín")


def test_it_works_without_script(site: Site) -> None:
    """Card, lesson, practice with the pad, and the exam's first sheets need no script."""
    page = site.open_card("Ximena Luján Carrasco", size=PHONE, language="es-US", script=False)
    page.goto(f"/lessons/{MODULE}/")
    page.get_by_role("button", name="Ya leí esto").click()
    page.goto("/practice/")
    page.locator(f'form[action="/practice/{MODULE}/draw/"] button').click()
    ref = page.url.rstrip("/").rsplit("/", 1)[1]
    fill(page, site.ask("practice", ref)["right"])
    page.get_by_role("button", name="Contestar").click()
    expect(page.get_by_role("heading", name="Correcto", exact=True)).to_be_visible()
    page.goto("/exams/edge-metal/start/")
    page.locator("main form button").first.click()
    sitting = page.url.split("/sittings/")[1].split("/")[0]
    for number in (1, 2):
        fill(page, site.ask("sheet", sitting, str(number))["right"])
        page.locator("button[value=next]").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("3 de 10")
