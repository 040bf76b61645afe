"""Every page, as its people see it: nothing for axe to find, no sideways scroll on a phone, no word left in English."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import axe_playwright_python
import pytest
from django.urls import resolve
from playwright.sync_api import Page

from tests.browser.conftest import DESK, PHONE, Site

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text()
SIZES = {"360": PHONE, "390": {"width": 390, "height": 844}, "1280": DESK}
EACH = 2  # pages of one address pattern that are looked at: the first may be an empty case
STAFF = {
    "trainer": "dorothea@evenlap.example",
    "office": "harriet@copperhollow.example",
    "foreman": "emmett@copperhollow.example",
}


def pattern_of(path: str) -> str:
    """Give the name of the address that a path belongs to."""
    return resolve(path).url_name or path


def links_on(page: Page, origin: str) -> list[str]:
    """List the addresses of this site that a page links to, downloads left out."""
    found = page.eval_on_selector_all("a[href]", "links => links.map(link => link.href)")
    paths = [url.removeprefix(origin) for url in found if url.startswith(origin + "/")]
    return [path for path in paths if not path.endswith((".csv", ".xlsx", "/paper/", "/file/")) and "#" not in path]


def walk(page: Page, start: str, origin: str) -> Iterator[str]:
    """Open every page that can be reached, two of each address pattern, and give its pattern's name."""
    seen: dict[str, int] = {}
    known, queue = {start}, [start]
    while queue:
        path = queue.pop(0)
        name = pattern_of(path.split("?")[0])
        if seen.get(name, 0) >= EACH or name == "account_logout":
            continue
        answer = page.goto(path)
        if answer is None or answer.status != 200:
            continue
        seen[name] = seen.get(name, 0) + 1
        yield name
        for link in links_on(page, origin):
            if link not in known:
                known.add(link)
                queue.append(link)


def findings(page: Page) -> list[str]:
    """Give what axe finds on the page, and whether it scrolls sideways."""
    page.evaluate(AXE)
    result: dict[str, Any] = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    found = [
        f"{page.url}: {one['id']}: {node['html'][:160]} {node.get('failureSummary', '')[:200]}"
        for one in result["violations"]
        for node in one["nodes"][:3]
    ]
    width = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return [*found, *([f"{page.url}: scrolls {width} px sideways"] if width > 0 else [])]


def look_at(
    page: Page, start: str, site: Site, label: str, picture: Callable[[Page, str], None]
) -> tuple[set[str], list[str]]:
    """Walk the pages in one size and language; give the patterns seen and everything found."""
    names: set[str] = set()
    found: list[str] = []
    for name in walk(page, start, site.origin):
        picture(page, f"{label}-{name}{'-2' if name in names else ''}")
        names.add(name)
        found += findings(page)
    return names, found


def set_language(page: Page, language: str) -> None:
    """Choose the language by the button at the foot, where it is not chosen yet."""
    button = page.locator(f'button[name=language][value="{language}"]')
    if button.count():
        button.click()


@pytest.mark.parametrize("language", ["en-us", "es-us"])
@pytest.mark.parametrize("role", STAFF)
def test_it_is_sound_for_staff(site: Site, role: str, language: str, picture: Callable[[Page, str], None]) -> None:
    """Each staff page passes axe in both languages and does not scroll sideways at 360 pixels."""
    page = site.sign_in(STAFF[role], size=PHONE)
    page.goto("/")
    set_language(page, language)
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    names, found = look_at(page, "/", site, f"{role}-{language}-360", picture)
    set_language(page, "en-us")

    assert not found, "\n".join(found)
    least = {"trainer": 12, "office": 10, "foreman": 5}[role]
    assert len(names) >= least, sorted(names)


@pytest.mark.parametrize("size", ["390", "1280"])
def test_it_is_sound_on_other_screens(site: Site, size: str, picture: Callable[[Page, str], None]) -> None:
    """The office's pages pass at the widths of a larger phone and a desk, in Spanish."""
    page = site.sign_in(STAFF["office"], size=SIZES[size])
    set_language(page, "es-us")
    _names, found = look_at(page, "/", site, f"office-es-us-{size}", picture)
    set_language(page, "en-us")

    assert not found, "\n".join(found)


@pytest.mark.parametrize("language", ["en-us", "es-us"])
def test_it_is_sound_for_trainees_and_strangers(
    site: Site, language: str, picture: Callable[[Page, str], None]
) -> None:
    """A foreman who also trains sees every trainee page; strangers see theirs."""
    page = site.sign_in(STAFF["foreman"], size=PHONE)
    set_language(page, language)
    names, found = look_at(page, "/today/", site, f"trainee-{language}-360", picture)
    for module in ("base-sheet-layout", "edge-metal"):
        page.goto("/practice/")
        page.locator(f'form[action="/practice/{module}/draw/"] button').click()
        picture(page, f"trainee-{language}-360-practice-{module}")
        found += findings(page)
    set_language(page, "en-us")
    stranger = site.visitor(size=PHONE)
    stranger.goto("/")
    set_language(stranger, language)
    more, also = look_at(stranger, "/", site, f"stranger-{language}-360", picture)

    assert not [*found, *also], "\n".join([*found, *also])
    assert {"today", "lessons", "lesson", "practice", "exams"} <= names
    assert {"index", "account_login", "verify-lookup"} <= more
