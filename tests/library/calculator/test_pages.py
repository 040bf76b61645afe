"""The calculator's pages: list, rule, answer, what fills it in, the link, and what is said of bad inputs."""

import html
import re
from collections.abc import Callable
from datetime import date
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from django.test import Client

from tests.inline import inline_parts
from tests.library.folder import OLD, SPECIFICATION
from tests.rules.samples import INPUTS, OWN
from trainer.library import queries, services
from trainer.library.calculator.catalog import FIRST
from trainer.library.models import Adoption, ModuleVersion
from trainer.people.access import Member
from trainer.rules import REGISTRY
from trainer.rules.words import rule_title

pytestmark = pytest.mark.django_db
SignIn = Callable[[Member], Client]
EVERY = sorted(REGISTRY)


@pytest.fixture
def client(sign_in: SignIn, foreman: Member) -> Client:
    """Give a client signed in as the foreman."""
    return sign_in(foreman)


def read(client: Client, path: str = "", **data: Any) -> str:
    """Give a page's text: its HTML with entities read and white space made single."""
    response = client.get(f"/c/own/calculator/{path}", data)
    assert response.status_code == 200, response
    return " ".join(html.unescape(response.content.decode()).split())


def in_spanish(member: Member) -> None:
    """Let the member read Spanish."""
    member.account.language = "es-us"
    member.account.save()


def field(page: str, name: str) -> str:
    """Give the part of the page that holds one field with its help and its error."""
    found = re.search(rf'<div id="div_id_{name}".*?(?=<div id="div_id_|<input type="submit")', page)
    assert found, f"no field {name}"
    return found[0]


def value_of(page: str, name: str) -> str:
    """Give what stands in a field."""
    found = re.search(rf'<input type="text" name="{name}"(?: value="([^>]*?)")? ', page)
    assert found, f"no field {name}"
    return found[1] or ""


def answer(page: str) -> str:
    """Give the large answer."""
    found = re.search(r'<p class="answer-value">(.*?)</p>', page)
    assert found, "no answer"
    return found[1]


def examples(name: str) -> dict[str, str]:
    """Give the example inputs of a rule as they would be written."""
    own = OWN.get(name, {})
    return {item.name: str(own.get(item.name, INPUTS[item.name])) for item in REGISTRY[name].inputs}


def link(page: str) -> str:
    """Give the link that carries the inputs."""
    found = re.search(r'<input id="link" type="text" readonly value="([^"]*?)(?:"")?">', page)
    assert found, "no link"
    return found[1]


# ---------------------------------------------------------------------------------------------------------- the list
def test_it_lists_every_rule_once_and_the_first_ones_in_front(client: Client, adoption: Adoption) -> None:
    """About twenty stand first; the others are there behind "more", each rule once."""
    page = read(client)
    listed = re.findall(r'class="rule-link" href="/c/own/calculator/(\w+)/"', page)
    front = re.findall(
        r'class="rule-link" href="/c/own/calculator/(\w+)/"', page.partition('<details class="more">')[0]
    )

    assert sorted(listed) == EVERY
    assert sorted(front) == sorted(FIRST)
    assert 18 <= len(front) <= 24


def test_it_says_what_has_to_be_written(client: Client, adoption: Adoption) -> None:
    """What the specification gives is not asked for."""
    page = read(client)

    assert "You write: deck up the slope</span>" in page
    assert "Nothing to write: the specification has it all" in page


@pytest.mark.parametrize("words", ["chalk line", "TIZA", "línea tiza", "lineas de tiza"])
def test_it_finds_rules_by_words_of_either_language(client: Client, words: str) -> None:
    """All the words must be there, in titles, topics or inputs."""
    listed = re.findall(r"/calculator/(\w+)/", read(client, search=words))

    assert "chalk_lines" in listed
    assert len(listed) < 12


@pytest.mark.parametrize(
    ("words", "found", "others"),
    [
        ("ladder", "ladder_foot_by_height", "hole_cover_accepted"),  # a word of the topic finds its rules alone
        ("escalera", "ladder_rail_length", "fire_watch_left"),
        ("standing water", "flashing_height_left", "slope_angle"),
        ("safety", "monitor_alone_allowed", "free_fall"),
        ("drainage", "pond_weight", "course_count"),  # no rule is called so, its topic is
    ],
)
def test_it_finds_rules_before_topics(client: Client, words: str, found: str, others: str) -> None:
    """A word that rules hold finds them alone; one that only a topic holds finds all of the topic."""
    listed = re.findall(r"/calculator/(\w+)/", read(client, search=words))

    assert found in listed
    assert others not in listed


def test_it_says_when_no_rule_holds_the_words(client: Client) -> None:
    """A search without a find leads back to the list."""
    page = read(client, search="<b>zzz")

    assert "No rule holds these words." in page
    assert "<b>zzz" not in client.get("/c/own/calculator/", {"search": "<b>zzz"}).content.decode()


def test_it_stands_in_the_menu(client: Client) -> None:
    """A foreman reaches it from every page."""
    assert '<a href="/c/own/calculator/" aria-current="page">Calculator</a>' in read(client)


# --------------------------------------------------------------------------------------------- every rule's own page
@pytest.mark.parametrize("name", EVERY)
def test_it_opens_and_works_every_rule(client: Client, adoption: Adoption, name: str) -> None:
    """Each rule's page opens, works example inputs to the rule's own value, and shows each step."""
    rule = REGISTRY[name]
    given = examples(name)
    opened, page = read(client, f"{name}/"), read(client, f"{name}/", **given)
    working = rule.answer(given)

    assert f"<h1>{rule_title(name)}" in opened.replace("<h1> ", "<h1>")
    assert page.count('<span class="what">') == len(working.steps)
    assert "invalid-feedback" not in page
    assert not inline_parts(page)
    if isinstance(working.value, tuple):
        assert answer(page) == str(len(working.value))
    elif rule.result.name not in {"length", "difference of lengths"}:
        assert answer(page) == rule.result.text(working.value)
    else:
        assert answer(page).removeprefix("about ") == rule.result.text(working.value)


@pytest.mark.parametrize("name", EVERY)
def test_it_opens_and_works_every_rule_in_spanish(client: Client, foreman: Member, name: str) -> None:
    """The same pages in Spanish, without any specification: the reader's words for every label and step."""
    in_spanish(foreman)
    rule = REGISTRY[name]
    value = rule.answer(examples(name)).value
    text = str(len(value)) if isinstance(value, tuple) else rule.result.text(value, "imperial", "es")
    page = read(client, f"{name}/", **examples(name))

    assert rule_title(name, "es") in page
    assert answer(page).removeprefix("aprox. ") == text


def test_it_knows_no_other_rule(client: Client) -> None:
    """An address of no rule answers 404."""
    assert client.get("/c/own/calculator/no_such_rule/").status_code == 404


# ----------------------------------------------------------------------------------------- what the specification fills
def test_it_fills_in_what_the_specification_says(client: Client, adoption: Adoption) -> None:
    """Filled in, with limit and source; worked-out inputs say so; the rest stays empty."""
    page = read(client, "course_count/")

    assert value_of(page, "side_lap") == "4 in"
    assert "Specification: at least 4 in; common practice." in field(page, "side_lap")
    assert "Compare it with the label" in field(page, "roll_width")
    assert value_of(page, "starter_width") == "2 ft 2 1/4 in"
    assert "Worked out from the specification." in field(page, "starter_width")
    assert value_of(page, "run") == ""
    assert "May stay empty: then 0 in." in field(page, "top_overhang")
    assert "answer-value" not in page


def test_it_uses_the_revision_in_force_today(client: Client, company: Any, version: ModuleVersion) -> None:
    """Another revision gives another side lap, and the page names it."""
    old = queries.revision(SPECIFICATION, OLD)
    assert old is not None
    services.adopt_specification(company=company, revision=old, on=date(2024, 1, 1))
    page = read(client, "course_count/")

    assert value_of(page, "side_lap") == "3 in"
    assert "revision 2024" in page


def test_it_takes_a_written_value_over_the_filled_one(client: Client, adoption: Adoption) -> None:
    """The written value is worked with, and what the specification says stays beside it."""
    plain, changed = (read(client, "course_count/", run="24 ft 6 in", **more) for more in ({}, {"side_lap": "10 in"}))

    assert (answer(plain), answer(changed)) == ("9", "11")
    assert value_of(changed, "side_lap") == "10 in"
    assert "Yours. The specification: at least 4 in; common practice." in field(changed, "side_lap")
    assert "Specification: at least 4 in" in field(plain, "side_lap")


def test_it_takes_an_emptied_field_back_from_the_specification(client: Client, adoption: Adoption) -> None:
    """Emptying a field is asking for the specification's value again."""
    page = read(client, "course_count/", run="24 ft 6 in", side_lap=" ")

    assert value_of(page, "side_lap") == "4 in"
    assert answer(page) == "9"


def test_it_answers_at_once_when_nothing_has_to_be_written(client: Client, adoption: Adoption) -> None:
    """The exposure is all in the specification."""
    page = read(client, "exposure/")

    assert answer(page) == "2 ft 11 3/8 in"


def test_it_works_for_the_cap_sheet_too(client: Client, adoption: Adoption) -> None:
    """Where the specification says the same of both sheets, one is chosen; what was written moves along."""
    page = read(client, "cut_list/", length="92 ft 7 in", courses="3")
    address = re.search(r'href="\?(sheet=cap[^"]*)"', page)
    assert address
    cap = read(client, f"cut_list/?{address[1]}")

    assert value_of(page, "roll_length") == "65 ft 6 in"
    assert value_of(cap, "roll_length") == "32 ft 9 in"
    assert value_of(cap, "length") == "92 ft 7 in"
    assert (answer(page), answer(cap)) == ("6", "9")
    assert 'name="sheet" value="cap"' in cap


def test_it_works_without_a_specification(client: Client) -> None:
    """Every value is written by hand, and the page says why."""
    page = read(client, "exposure/", roll_width="1 m", side_lap="100 mm")

    assert "has not adopted a specification yet" in page
    assert answer(page).removeprefix("about ") == "2 ft 11 7/16 in"
    assert "Specification:" not in page


# ------------------------------------------------------------------------------------------------------------ the link
@pytest.mark.parametrize("name", ["course_count", "cut_list", "warning_line_setback", "primer_volume", "least_stagger"])
def test_its_link_carries_the_inputs(client: Client, adoption: Adoption, name: str) -> None:
    """Whoever opens the link sees the same numbers and the same answer, also under another specification."""
    given = examples(name)
    page = read(client, f"{name}/", **given)
    parts = urlsplit(link(page))
    again = client.get(parts.path, parse_qs(parts.query)).content.decode()

    assert {key: values[0] for key, values in parse_qs(parts.query).items()} == given
    assert answer(" ".join(html.unescape(again).split())) == answer(page)


def test_its_link_carries_what_was_filled_in(client: Client, adoption: Adoption, company: Any) -> None:
    """A sheet that was sent does not change when the company adopts another revision."""
    parts = urlsplit(link(read(client, "course_count/", run="24 ft 6 in")))
    old = queries.revision(SPECIFICATION, OLD)
    assert old is not None
    services.adopt_specification(company=company, revision=old, on=date(2024, 1, 2))
    page = read(client, "course_count/", **{key: values[0] for key, values in parse_qs(parts.query).items()})

    assert value_of(page, "side_lap") == "4 in"
    assert "Yours. The specification: at least 3 in" in field(page, "side_lap")
    assert answer(page) == "9"


# ---------------------------------------------------------------------------------------------------------- bad inputs
BAD = {"edge": "far", "beads": "2.5", "waste": "0.5", "bead_width": "0 in", "bead_depth": "1/4 in"}


def test_it_tells_of_each_bad_input_beside_its_field(client: Client, adoption: Adoption) -> None:
    """Each gets its own sentence, and what was written stays."""
    page = read(client, "cartridges/", **BAD)

    assert "“far” is not a length. Write one, such as 24 ft 6 1/2 in or 89 mm." in field(page, "edge")
    assert "“2.5” is not a whole number." in field(page, "beads")
    assert "“0.5” can mean a percent or a part. Write 0.5 %, or a fraction such as 1/3." in field(page, "waste")
    assert "Bead width: 0 in; it must be at least 1/64 in." in field(page, "bead_width")
    assert "invalid-feedback" not in field(page, "bead_depth")
    assert {name: value_of(page, name) for name in BAD} == BAD
    assert "answer-value" not in page


def test_it_tells_of_each_bad_input_in_spanish(client: Client, foreman: Member, adoption: Adoption) -> None:
    """The same sentences, as a crew says them."""
    in_spanish(foreman)
    page = read(client, "cartridges/", **BAD)

    assert "“far” no es una medida. Escriba una, por ejemplo 24 pies 6 1/2 pulg o 89 mm." in field(page, "edge")
    assert "“2.5” no es un número entero." in field(page, "beads")
    assert "“0.5” puede ser por ciento o parte. Escriba 0.5 % o una fracción, por ejemplo 1/3." in field(page, "waste")
    assert "Ancho del cordón: 0 pulg; debe ser por lo menos 1/64 pulg." in field(page, "bead_width")
    assert {name: value_of(page, name) for name in BAD} == BAD


@pytest.mark.parametrize(
    ("rule", "given", "name", "says"),
    [
        ("course_count", {"run": ""}, "run", "Nothing is written here. Write it, such as 24 ft 6 1/2 in."),
        ("course_count", {"run": "9" * 61}, "run", "at most 60 characters"),
        (
            "course_count",
            {"run": "24 ft", "side_lap": "4 ft"},
            "roll_width",
            "it must be at least side lap (4 ft) + 1 in",
        ),
        ("course_count", {"run": "1,000"}, "run", "can mean a thousand or a decimal"),
        ("warning_line_setback", {"equipment": "yes"}, "across", "Choose yes or no."),
        ("warning_line_setback", {"equipment": "maybe", "across": "no"}, "equipment", "maybe is not one of the"),
        ("dew_point", {"air_temperature": "70", "humidity": "500 %"}, "humidity", "it must be at most 100%"),
        ("cut_list", {"length": "92 ft", "courses": "3", "roll_length": "5 ft"}, "roll_length", "it must be at least"),
        ("least_stagger", {"upper": "16 ft; x", "lower": "3 ft"}, "upper", "“ x” is not a length"),
        ("gauge_thickness", {"gauge": "21"}, "gauge", "Metal gauge: 21 gauge; it must be"),
    ],
)
def test_it_says_how_to_mend_an_input(
    client: Client, adoption: Adoption, rule: str, given: dict[str, str], name: str, says: str
) -> None:
    """One sentence beside the field, no error page."""
    assert says in field(read(client, f"{rule}/", **given), name)


# --------------------------------------------------------------------------------------------------- source and caution
def test_it_names_the_source(client: Client) -> None:
    """Document with clause and jurisdiction stand on the page."""
    page = read(client, "fall_protection_owed/")

    assert "29 CFR 1926 Safety and Health Regulations for Construction" in page
    assert "1926.501(b)(10)" in page
    assert "2007" in page
    assert "US federal; state plans differ" in page


@pytest.mark.parametrize("name", [name for name in EVERY if REGISTRY[name].topic == "safety"])
def test_it_cautions_where_a_number_guards_a_life(client: Client, name: str) -> None:
    """Every safety rule says that others come first."""
    page = read(client, f"{name}/")

    assert '<p class="caution">' in page
    assert "Roof work kills." in page


@pytest.mark.parametrize(
    "name", ["pond_weight", "rolls_weight", "primer_volume", "corner_zone_area", "surface_above_dew"]
)
def test_it_defers_to_who_can_say(client: Client, foreman: Member, name: str) -> None:
    """Loads, zones, rates and weather defer to engineer, drawing, maker, in both languages."""
    assert '<p class="caution"><strong>Caution.</strong>' in read(client, f"{name}/")
    in_spanish(foreman)
    assert '<p class="caution"><strong>Precaución.</strong>' in read(client, f"{name}/")


def test_it_draws_where_a_drawing_fits(client: Client, adoption: Adoption) -> None:
    """The drawing carries the answer; a roof of too many courses is worked without one."""
    page, large = read(client, "course_count/", run="24 ft 6 in"), read(client, "course_count/", run="900 ft")

    assert '<svg class="drawing"' in page or "<svg" in page.partition('<figure class="drawing">')[2]
    assert '<figure class="drawing">' not in large
    assert answer(large) == "306"


def test_it_shortens_a_list_that_nobody_would_read(client: Client, adoption: Adoption) -> None:
    """The answer counts all of them; two hundred are written out."""
    page = read(client, "cut_list/", length="900 ft", courses="200")

    assert page.partition('<ol class="entries">')[2].partition("</ol>")[0].count("<li>") == 200
    assert f"and {int(answer(page).replace(',', '')) - 200:,} more".replace(",", "") in page.replace(",", "")


def test_it_tells_where_each_course_of_a_cut_list_begins(client: Client, foreman: Member, adoption: Adoption) -> None:
    """Three courses of two pieces: each first piece bears its course's number, in the reader's language."""
    page = read(client, "cut_list/", length="92 ft 7 in", courses="3")
    entries = re.findall(r"<li>(.*?)</li>", page.partition('<ol class="entries">')[2].partition("</ol>")[0])

    assert [re.findall(r"course (\d+)", entry) for entry in entries] == [["1"], [], ["2"], [], ["3"], []]
    assert entries[0].endswith("65 ft 6 in")
    assert "course" not in read(client, "chalk_lines/", run="24 ft 6 in").partition('class="entries"')[2][:400]
    in_spanish(foreman)
    assert "hilera 2</span>" in read(client, "cut_list/", length="92 ft 7 in", courses="3")


@pytest.mark.parametrize(
    ("path", "data", "most"),
    [
        pytest.param("", {}, 14, id="list"),
        pytest.param("course_count/", {"run": "24 ft 6 in"}, 14, id="rule"),
    ],
)
def test_it_takes_a_bounded_number_of_queries(
    client: Client, adoption: Adoption, path: str, data: dict[str, str], most: int, django_assert_max_num_queries: Any
) -> None:
    """Sign-in, member and menu included, from an empty memory."""
    queries._texts.clear()
    with django_assert_max_num_queries(most):
        read(client, path, **data)


@pytest.mark.parametrize(
    ("language", "says"),
    [("en", "only the permit can say it"), ("es", "solo el permiso puede decirla")],
)
def test_it_suggests_no_value_that_only_a_permit_gives(
    client: Client, adoption: Adoption, foreman: Member, language: str, says: str
) -> None:
    """Neither the empty field nor its error shows a number; both say who gives it."""
    if language == "es":
        in_spanish(foreman)

    for typed in ({}, {"watched": "20 min"}):
        shown = re.sub(r"<[^>]*>", " ", field(read(client, "fire_watch_left/", **typed), "fire_watch"))
        assert says in shown
        assert not re.search(r"\d", shown)
