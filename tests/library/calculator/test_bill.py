"""The page of the bill: a roof typed in, what it takes, and what is said of lines that cannot be read."""

import html
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from django.test import Client

from tests.inline import inline_parts
from trainer.library.models import Adoption
from trainer.library.queries import specification_in_force
from trainer.people.access import Member
from trainer.rules.bill import Deck, bill_of_materials
from trainer.rules.words import label, value_text

pytestmark = pytest.mark.django_db
SignIn = Callable[[Member], Client]


@pytest.fixture
def client(sign_in: SignIn, foreman: Member) -> Client:
    """Give a client signed in as the foreman."""
    return sign_in(foreman)


def read(client: Client, **data: Any) -> str:
    """Give the page's text, entities read and white space made single."""
    response = client.get("/c/own/calculator/bill/", data)
    assert response.status_code == 200, response
    return " ".join(html.unescape(response.content.decode()).split())


def test_it_lists_what_a_roof_takes(client: Client, foreman: Member, adoption: Adoption) -> None:
    """Every line of the rules' own bill stands there, with the rules that gave it and a link that carries the roof."""
    page = read(client, rectangles="24 ft x 40 ft\r\n12 ft × 20 ft", edge="152 ft")
    adopted = specification_in_force(foreman.company, "two-ply-self-adhered", on=foreman.today)
    assert adopted is not None
    specification = adopted.specification
    decks = [Deck(Fraction(288), Fraction(480)), Deck(Fraction(144), Fraction(240))]

    for line in bill_of_materials(decks, specification, edge=Fraction(152 * 12)):
        item = label(line.item)
        assert f"{item[0].upper()}{item[1:]}</th>" in page
        assert f'<td class="number">{value_text(line.item, line.value)}</td>' in page
    assert "Rolls for a roof: " in page
    assert "rectangles=24+ft+x+40+ft" in page
    assert "engineer or the plan" in page
    assert not inline_parts(page)


@pytest.mark.parametrize(
    ("roof", "says"),
    [
        ({"rectangles": "24 ft x 40 ft\n24 ft by 12", "edge": "90 ft"}, "Line 2, “24 ft by 12”, is not two lengths."),
        ({"rectangles": "24 ft x 40 parsecs"}, "Line 1, “24 ft x 40 parsecs”, is not two lengths."),
        ({"rectangles": "24 ft x 40 ft\n9 ft x 9 ft", "edge": ""}, "Measure the roof's edge all round."),
        ({"rectangles": "0 ft x 40 ft"}, "Deck up the slope: 0 in; it must be more than 0 in."),
        ({"rectangles": "\n".join(["9 ft x 9 ft"] * 51), "edge": "90 ft"}, "At most 50 rectangles make one bill."),
        ({"rectangles": ""}, "This field is required."),
    ],
    ids=["no second length", "no unit", "no edge", "no run", "too many", "nothing"],
)
def test_it_says_what_cannot_be_read(client: Client, adoption: Adoption, roof: dict[str, str], says: str) -> None:
    """The sentence stands on the page, what was typed is kept, and there is no bill."""
    page = read(client, **roof)

    assert says in page
    assert "<table>" not in page
    assert roof["rectangles"].splitlines()[0] in page if roof["rectangles"] else True


def test_it_asks_for_a_specification_first(client: Client) -> None:
    """Without sheets, laps and rates there is nothing to add up."""
    assert "your company has not adopted one" in read(client, rectangles="24 ft x 40 ft")


def test_it_speaks_spanish(client: Client, foreman: Member, adoption: Adoption) -> None:
    """Items, rules and what is wrong."""
    foreman.account.language = "es-us"
    foreman.account.save()

    page = read(client, rectangles="24 pies x 40 pies")
    wrong = read(client, rectangles="24")

    assert "Rollos de hoja base" in page
    assert "Rollos para un techo: " in page
    assert "no son dos longitudes" in wrong


def test_it_stands_on_the_calculators_list(client: Client, adoption: Adoption) -> None:
    """A foreman finds it above the rules."""
    page = client.get("/c/own/calculator/").content.decode()

    assert 'href="/c/own/calculator/bill/"' in page
