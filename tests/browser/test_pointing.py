"""Pointing at a part of a drawing: by finger on a phone, by keys in the list, and without script."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import PHONE, Site
from tests.browser.test_pages import findings

MODULES = ("fastening-patterns-and-zones", "laying-and-rolling", "pipes-posts-and-pockets", "edge-metal")
FINGER = 24  # CSS pixels, the least target size of WCAG 2.2, success criterion 2.5.8
NO_RING = "rgba(0, 0, 0, 0)"


def to_a_drawing(page: Page) -> str:
    """Sit exams until a sheet has a drawing to point at; open it and give its address."""
    for module in MODULES:
        page.goto(f"/exams/{module}/start/")
        page.locator("main form button").first.click()
        sheets = page.locator(".sheet-numbers a").evaluate_all("links => links.map(link => link.href)")
        for sheet in sheets:
            page.goto(sheet)
            if page.locator("fieldset.parts").count():
                return str(sheet)
    raise AssertionError(f"no exam of {', '.join(MODULES)} asked to point at a part")


def color(label: Locator) -> str:
    """Give the color of the ring around a part."""
    return str(label.evaluate("label => getComputedStyle(label).borderTopColor"))


def marked(page: Page) -> str | None:
    """Give the letter of the row that is marked."""
    return page.locator("input[name=part]:checked").get_attribute("value")


def tap_each(page: Page) -> str:
    """Tap every part in the drawing: its row is marked and it alone is ringed. Give the last one's letter."""
    labels = page.locator(".pointing label")
    assert labels.count() >= 4
    for number in range(labels.count()):
        label = labels.nth(number)
        label.scroll_into_view_if_needed()
        box = label.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= FINGER
        label.tap()  # refused by the browser where another part lies over its middle
        letter = label.get_attribute("data-letter")
        assert marked(page) == letter
        ringed = {one.get_attribute("data-letter") for one in labels.all() if color(one) != NO_RING}
        assert ringed == {letter}
    return str(marked(page))


def move_by_keys(page: Page) -> None:
    """Go through the list by arrow keys: the row and the part in the drawing show where the focus is."""
    rows = page.locator("input[name=part]")
    rows.first.check()
    rows.first.focus()
    page.keyboard.press("ArrowDown")
    second = rows.nth(1)
    part = page.locator(f'.pointing label[data-letter="{second.get_attribute("value")}"]').first

    expect(second).to_be_checked()
    expect(second).to_be_focused()
    assert second.evaluate("row => getComputedStyle(row).outlineStyle") == "solid"
    assert part.evaluate("label => getComputedStyle(label).outlineStyle") == "dashed"
    assert color(part) != NO_RING


def test_it_takes_a_finger_a_key_and_no_script(site: Site, picture: Callable[[Page, str], None]) -> None:
    """On a phone each part can be tapped and each row reached by key; what is marked is saved, with script or not."""
    page = site.open_card("Wendell Ashgrove", size=PHONE)
    sheet = to_a_drawing(page)
    found = findings(page)
    last = tap_each(page)
    expect(page.locator("#saved")).to_contain_text("Saved at")
    picture(page, "point-at-360-en")
    page.goto(sheet)
    kept = marked(page)
    move_by_keys(page)

    plain = site.visitor(size=PHONE, script=False)
    plain.context.add_cookies(page.context.cookies())  # type: ignore[arg-type]
    page.close()
    plain.goto(sheet)
    label = plain.locator(".pointing label").first
    label.tap()
    tapped = marked(plain)
    ring = color(label)
    plain.locator(".row-of-buttons button").first.click()
    plain.goto(sheet)

    assert found == []
    assert kept == last
    assert tapped == label.get_attribute("data-letter")
    assert ring != NO_RING
    assert marked(plain) == tapped
    assert re.search(r"answered", plain.locator(".sheet-numbers [aria-current]").inner_text())


@pytest.mark.parametrize("language", ["en", "es"])
def test_it_shows_the_fault_to_authors(site: Site, language: str, picture: Callable[[Page, str], None]) -> None:
    """The preview has the drawing beside its rows, and the one with the ring only below; axe finds nothing."""
    page = site.sign_in("harriet@copperhollow.example")
    page.goto(f"/c/copperhollow/modules/edge-metal/questions/spot-edge/?seed=7&language={language}")
    picture(page, f"point-at-preview-1280-{language}")

    drawing, rows = page.locator(".pointing").bounding_box(), page.locator(".parts").bounding_box()
    assert drawing is not None
    assert rows is not None
    assert rows["x"] >= drawing["x"] + drawing["width"]
    assert page.locator("svg .ring").count() >= 2
    assert page.locator(".pointing .ring").count() == 0
    assert findings(page) == []
