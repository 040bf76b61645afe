"""The calculator on a foreman's phone: a number mended, an answer, a link that a colleague opens, a printed sheet."""

from collections.abc import Callable
from io import BytesIO

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE, Site
from tests.browser.test_pages import findings

FOREMAN, TRAINER, OTHER = "emmett@copperhollow.example", "dorothea@evenlap.example", "priya@ninebark.example"


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_it_works_a_number_out_on_a_phone(site: Site, script: bool, picture: Callable[[Page, str], None]) -> None:
    """Nothing worked out is told at the top with a way to the field; mended, the answer stands above its steps."""
    page = site.sign_in(FOREMAN, size=PHONE, script=script)
    page.goto("/c/copperhollow/calculator/cartridges/")
    page.locator("#id_edge").fill("86' 5 1/2\"")
    page.locator("#id_beads").fill("one")
    page.get_by_role("button", name="Work it out").click()
    expect(page.get_by_role("alert")).to_contain_text("one number is to be mended")
    picture(page, f"calculator-mend-{script}")
    page.get_by_role("alert").get_by_role("link", name="Beads").click()
    page.locator("#id_beads").fill("1")
    page.get_by_role("button", name="Work it out").click()

    expect(page.locator(".answer-value")).to_have_text("4")
    expect(page.locator("#id_edge")).to_have_value("86' 5 1/2\"")
    expect(page.locator("figure.drawing svg")).to_be_visible()
    expect(page.get_by_role("button", name="Copy the link")).to_have_count(1 if script else 0)
    picture(page, f"calculator-answer-{script}")
    if script:
        assert not findings(page)


def test_its_link_opens_for_the_company_alone(site: Site) -> None:
    """A colleague sees the same numbers and answer; somebody of another company no page."""
    page = site.sign_in(FOREMAN, size=PHONE)
    page.goto("/c/copperhollow/calculator/course_count/?run=24′+6½″&side_lap=100+mm")
    link, answer = page.locator("#link").input_value(), page.locator(".answer-value").inner_text()
    colleague, stranger = site.sign_in(TRAINER, size=DESK), site.sign_in(OTHER, size=DESK)
    colleague.goto(link)
    refused = stranger.goto(link)

    expect(colleague.locator(".answer-value")).to_have_text(answer)
    expect(colleague.locator("#id_run")).to_have_value("24′ 6½″")
    assert refused is not None
    assert refused.status == 404


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_prints_dark_on_white_with_its_title_block(site: Site, scheme: str) -> None:
    """One sheet: who, which company, the numbers with where they come from, the steps; no menu, no buttons."""
    page = site.sign_in(FOREMAN, size=PHONE)
    page.emulate_media(media="print", color_scheme=scheme)  # type: ignore[arg-type]
    page.goto("/c/copperhollow/calculator/cut_list/?length=92'+7\"&courses=9")

    expect(page.locator(".title-block")).to_contain_text("Copperhollow Low-Slope Roofing")
    expect(page.locator(".in-print table")).to_contain_text("Specification:")
    for hidden in (".menu", "form.numbers", "#link"):
        expect(page.locator(hidden)).to_be_hidden()
    ink = page.evaluate("getComputedStyle(document.querySelector('.answer-value')).color")
    assert ink == "rgb(17, 17, 17)"
    assert BytesIO(page.pdf(format="Letter")).read().count(b"/Type /Page\n") == 1
