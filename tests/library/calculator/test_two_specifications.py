"""A company that installs to two specifications, one of them metric: each fills the calculator in by its own values."""

import html
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from tests.library.calculator.test_pages import answer, link, read, value_of
from tests.library.folder import NEW, SPECIFICATION
from trainer.library import queries, services
from trainer.library.models import Adoption
from trainer.people.access import Member

pytestmark = pytest.mark.django_db
METRIC = "two-ply-metric"
CHANGED = {
    f'name = "{SPECIFICATION}"': f'name = "{METRIC}"',
    'units = "imperial"': 'units = "metric"',
    'value = "39 3/8 in"': 'value = "1 m"',
}


@pytest.fixture
def client(sign_in: Callable[[Member], Client], foreman: Member) -> Client:
    """Give a client signed in as the foreman."""
    return sign_in(foreman)


@pytest.fixture
def metric(folder: Path, adoption: Adoption, company: Any) -> Adoption:
    """Let the company install to a metric specification beside its own."""
    specifications = folder / "specifications"
    text = (specifications / SPECIFICATION / f"{NEW}.toml").read_text(encoding="utf-8")
    for old, new in CHANGED.items():
        assert old in text
        text = text.replace(old, new)
    title = 'title = { en = "Two plies in metric", es = "Dos capas en metros" }'
    text = re.sub(r"^title = .*$", title, text, flags=re.MULTILINE)
    (specifications / METRIC).mkdir()
    (specifications / METRIC / f"{NEW}.toml").write_text(text, encoding="utf-8")
    services.load_lessons(folder=folder)
    revision = queries.revision(METRIC, NEW)
    assert revision is not None
    return services.adopt_specification(company=company, revision=revision, on=date(2024, 1, 1))


def test_it_offers_both_and_says_which_fills_the_page(client: Client, metric: Adoption) -> None:
    """A link for each carries what was written; the page names the one in use."""
    page = read(client, "course_count/", run="7.5 m")
    links = re.findall(r'href="(\?[^"]*run=[^"]*)"', page)

    assert "Two plies in metric" in page
    assert any(METRIC in entry for entry in links)
    assert any(SPECIFICATION in entry for entry in links)
    assert all("run=7.5" in entry for entry in links if "specification" in entry)


def test_it_fills_in_and_answers_in_meters(client: Client, metric: Adoption) -> None:
    """Values, steps and answer are in meters and millimeters; what is written may be in either system."""
    page = read(client, "last_course_width/", specification=METRIC, run="7.5 m")

    assert value_of(page, "roll_width") == "1 m"
    assert value_of(page, "run") == "7.5 m"
    assert answer(page).endswith(" mm")
    assert " ft" not in answer(page)
    own = read(client, "last_course_width/", specification=SPECIFICATION, run="7.5 m")
    assert value_of(own, "roll_width") == "3 ft 3 3/8 in"
    assert answer(own).endswith(" in")
    feet = read(client, "last_course_width/", specification=METRIC, run="24 ft 7 9/32 in")
    assert answer(feet).endswith(" mm")


def test_it_gives_the_same_count_in_either(client: Client, metric: Adoption) -> None:
    """Nails, pieces and squares of the same roof do not depend on the units that fill the page in."""
    for rule, given in (
        ("nails_along", {"edge": "86 ft 5 in"}),
        ("metal_pieces", {"edge": "26.34 m"}),
        ("nails_two_rows", {"edge": "26.34 m"}),
    ):
        pages = [read(client, f"{rule}/", specification=name, **given) for name in (SPECIFICATION, METRIC)]
        assert answer(pages[0]) == answer(pages[1])


def test_its_link_keeps_the_specification(client: Client, metric: Adoption) -> None:
    """Whoever opens the link sees the same page: the metric values and what was written."""
    page = read(client, "course_count/", specification=METRIC, run="7.5 m")
    address = html.unescape(link(page)).partition("/calculator/")[2]
    again = read(client, address)

    assert METRIC in address
    assert (answer(again), value_of(again, "roll_width")) == (answer(page), value_of(page, "roll_width"))


def test_it_says_both_in_spanish(client: Client, foreman: Member, metric: Adoption) -> None:
    """The title of each in the reader's language."""
    foreman.account.language = "es-us"
    foreman.account.save()
    page = read(client, "course_count/", specification=METRIC, run="7.5 m")

    assert "Dos capas en metros" in page
    assert value_of(page, "roll_width") == "1 m"


def test_it_knows_no_specification_that_was_not_adopted(client: Client, adoption: Adoption) -> None:
    """A name out of an old link falls back to what is in force."""
    page = read(client, "course_count/", specification="no-such-roof", run="24 ft 6 in")

    assert value_of(page, "roll_width") == "3 ft 3 3/8 in"
