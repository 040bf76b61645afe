"""Staff pages: modules, previews, specifications and their adoption."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client

from tests.library.folder import NEW, OLD, SLUG, SPECIFICATION
from trainer.library import queries
from trainer.library.models import Adoption, ModuleVersion
from trainer.people.access import Member

pytestmark = pytest.mark.django_db
SignIn = Callable[[Member], Client]


@pytest.fixture
def client(sign_in: SignIn, trainer: Member) -> Client:
    """Give a client signed in as the trainer."""
    return sign_in(trainer)


def read(client: Client, path: str, **data: Any) -> str:
    """Give a staff page's HTML."""
    response = client.get(f"/c/own/{path}", data)
    assert response.status_code == 200, response
    return response.content.decode()


def test_the_module_list_counts_questions_by_state(client: Client, adoption: Adoption) -> None:
    """A trainer sees at a glance what is in use and what is still a draft."""
    html = read(client, "modules/")

    assert "Laps on a small roof" in html
    assert "1 draft" in html
    assert "5 in use" in html
    assert f"{SPECIFICATION}/{NEW}" in html


def test_the_module_list_says_when_nothing_is_loaded(client: Client) -> None:
    """An empty library says who fills it."""
    assert "No lessons are loaded yet" in read(client, "modules/")


def test_the_module_page_lists_its_questions(client: Client, adoption: Adoption) -> None:
    """Kind, topic, use and state of each; critical ones are marked."""
    html = read(client, f"modules/{SLUG}/")

    assert html.count("/questions/") == 6
    assert "(critical)" in html
    assert "2 questions, 2 right to pass, 10 minutes" in " ".join(html.split())


def test_the_module_page_finds_questions(client: Client, adoption: Adoption) -> None:
    """The search field keeps the questions that hold all the words."""
    assert read(client, f"modules/{SLUG}/", search="exposure").count("/questions/") == 1
    assert "No question holds these words." in read(client, f"modules/{SLUG}/", search="zzz")


@pytest.mark.parametrize(
    ("language", "label", "value"),
    [
        pytest.param("en", OLD, "at least 3 in", id="English, older revision"),
        pytest.param("es", NEW, "al menos 4 pulg", id="Spanish, newer revision"),
    ],
)
def test_a_lesson_can_be_looked_at_under_any_revision(
    client: Client, adoption: Adoption, language: str, label: str, value: str
) -> None:
    """Language and revision are picked on the page."""
    html = read(client, f"lessons/{SLUG}/", language=language, revision=label)

    assert value in html
    assert f'<div lang="{language}">' in html
    assert '<figure class="drawing"><svg' in html


def test_a_lesson_preview_starts_with_the_revision_in_force(client: Client, adoption: Adoption) -> None:
    """Without a pick, the page shows what the crew reads today."""
    assert "at least 4 in" in read(client, f"lessons/{SLUG}/")


@pytest.mark.parametrize("stem", ["exposure", "nails", "short-lap", "steps", "readings", "rows-of-nails"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_question_is_previewed_with_its_answer(client: Client, adoption: Adoption, stem: str, language: str) -> None:
    """Every kind shows its fields, answer and what goes wrong, in either language."""
    html = read(client, f"modules/{SLUG}/questions/{stem}/", seed="1", language=language)

    assert "numbers 1" in html
    assert "<h2>Answer</h2>" in html
    assert ("Water gets in." if language == "en" else "Entra agua.") in html
    assert html.count("disabled") == 1


def test_the_same_seed_gives_the_same_case_and_no_seed_a_new_one(client: Client, adoption: Adoption) -> None:
    """A case can be shown to a colleague by its address; "New numbers" draws another."""

    def stem(**data: str) -> str:
        html = read(client, f"modules/{SLUG}/questions/exposure/", **data)
        return re.findall(r"The lap is [^<]*", html)[0]

    assert stem(seed="abc") == stem(seed="abc")
    assert len({stem() for _ in range(6)}) > 1


def test_the_preview_shows_mistakes_and_steps(client: Client, adoption: Adoption) -> None:
    """An author sees which wrong answers are explained, and the worked steps."""
    html = read(client, f"modules/{SLUG}/questions/exposure/", seed="1")

    assert "The lap is taken off the width, not added." in html
    assert '<ol class="steps">' in html


def test_a_specification_shows_every_value_with_limit_and_source(client: Client, adoption: Adoption) -> None:
    """Nothing of a revision is hidden: limit kind, tolerance, source, and what only the maker can give."""
    html = read(client, f"specifications/{SPECIFICATION}/{NEW}/")
    specification = queries.specification_of(adoption.revision)

    assert html.count('<th scope="row" class="light">') == len(specification.values)
    assert "common practice" in html
    assert html.count("only the maker can give it") == sum(value.maker for value in specification.values.values())
    assert "UFGS 07 52 00" in html


def test_two_revisions_are_compared(client: Client, adoption: Adoption) -> None:
    """The differing values stand beside each other, and only those."""
    html = read(client, f"specifications/{SPECIFICATION}/{NEW}/", compare=OLD)
    old, new = (queries.revision(SPECIFICATION, label) for label in (OLD, NEW))
    assert old is not None
    assert new is not None
    before, after = queries.specification_of(old).values, queries.specification_of(new).values
    differing = [key for key in before if before[key] != after.get(key)]

    table = html.partition('aria-label="Differences"')[2]
    assert len(differing) >= 2
    assert table.count('<th scope="row">') == len(differing)
    assert "at least 3 in" in table
    assert "at least 4 in" in table


def test_a_revision_is_adopted_from_a_day_on(client: Client, version: ModuleVersion) -> None:
    """The page says what changes, takes a day, and the list shows it."""
    address = f"/c/own/specifications/{SPECIFICATION}/{NEW}/adopt/"
    assert "From which day" in client.get(address).content.decode()

    response = client.post(address, {"effective_from": "2026-03-02"}, follow=True)

    assert "Revision 2026 is adopted." in response.content.decode()
    assert str(Adoption.objects.get().effective_from) == "2026-03-02"


@pytest.mark.parametrize(
    ("day", "says"),
    [
        pytest.param("", "This field is required.", id="no day"),
        pytest.param("31.2.2026", "Enter a valid date.", id="no such day"),
        pytest.param("2026-06-01", "in force on that day already", id="already in force"),
    ],
)
def test_a_day_that_cannot_be_is_told_beside_the_field(client: Client, adoption: Adoption, day: str, says: str) -> None:
    """The error stands beside the field and nothing is recorded."""
    response = client.post(f"/c/own/specifications/{SPECIFICATION}/{NEW}/adopt/", {"effective_from": day})

    assert says in response.content.decode()
    assert Adoption.objects.count() == 1


@pytest.mark.parametrize(
    "path",
    [
        "modules/no-such-module/",
        "lessons/no-such-module/",
        f"modules/{SLUG}/questions/no-such-question/",
        f"specifications/{SPECIFICATION}/1999/",
        f"specifications/{SPECIFICATION}/1999/adopt/",
    ],
)
def test_what_is_not_there_is_not_found(client: Client, adoption: Adoption, path: str) -> None:
    """An address of nothing answers 404."""
    assert client.get(f"/c/own/{path}").status_code == 404


def test_a_foreman_reads_specifications_without_adopting(
    sign_in: SignIn, foreman: Member, version: ModuleVersion
) -> None:
    """A foreman sees what is missing and whom to ask, and no button that would be refused."""
    html = sign_in(foreman).get("/c/own/specifications/").content.decode()

    assert "Ask your trainer or the office to adopt it." in html
    assert "/adopt/" not in html


@pytest.mark.parametrize(
    ("path", "most"),
    [
        pytest.param("modules/", 16, id="module list"),
        pytest.param(f"modules/{SLUG}/", 16, id="module"),
        pytest.param(f"lessons/{SLUG}/", 16, id="lesson"),
        pytest.param(f"modules/{SLUG}/questions/exposure/?seed=1", 16, id="question"),
        pytest.param("specifications/", 16, id="specifications"),
        pytest.param(f"specifications/{SPECIFICATION}/{NEW}/?compare={OLD}", 16, id="specification"),
    ],
)
def test_pages_take_a_bounded_number_of_queries(
    client: Client, adoption: Adoption, path: str, most: int, django_assert_max_num_queries: Any
) -> None:
    """Sign-in, member and menu included, from an empty memory."""
    queries._texts.clear()
    with django_assert_max_num_queries(most):
        client.get(f"/c/own/{path}")
