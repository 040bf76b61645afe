"""Reading a lesson: values of the company's revision, and the minutes that are kept."""

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from django.test import Client
from django.urls import reverse

from tests.factories import member
from trainer.base import clock
from trainer.library import queries as library
from trainer.people.access import Member
from trainer.people.models import Company, Role
from trainer.training import queries, services
from trainer.training.models import Reading, ReadingEnd

MODULE = "base-sheet-layout"


def test_it_shows_the_lesson_and_keeps_the_minutes(
    lessons: Company, trainee: Member, sign_in: Callable[[Member], Client]
) -> None:
    """Opened at seven and said to be read at nine minutes past, nine minutes are kept, once."""
    client, start = sign_in(trainee), clock.now()
    with clock.fixed(start):
        page = client.get(reverse("lesson", kwargs={"slug": MODULE}))
    reading = Reading.objects.get()
    with clock.fixed(start + timedelta(minutes=9)):
        for _twice in range(2):
            client.post(reverse("reading-end", kwargs={"slug": MODULE, "ref": reading.ref}))

    assert library.revisions()[0].key in page.content.decode()
    assert ReadingEnd.objects.get().minutes == 9
    assert queries.minutes_read(company=lessons, accounts=[trainee.account]) == {(trainee.account.pk, MODULE): 9}


def test_it_lets_a_foreman_read_without_keeping_it(
    lessons: Company, foreman: Member, sign_in: Callable[[Member], Client]
) -> None:
    """A foreman who is no trainee reads what is to be taught: no reading begins, no practice or exam opens."""
    client = sign_in(foreman)
    listed = client.get(reverse("lessons")).content.decode()
    page = client.get(reverse("lesson", kwargs={"slug": MODULE})).content.decode()

    assert reverse("lesson", kwargs={"slug": MODULE}) in listed
    assert reverse("lessons") in client.get(reverse("my-crew", args=[lessons.slug])).content.decode()
    assert library.revisions()[0].key in page
    assert "I have read this" not in page
    assert not Reading.objects.exists()
    for closed in (reverse("practice"), reverse("exams")):
        assert closed not in page
        assert client.get(closed).status_code == 404


def test_it_keeps_the_reading_of_a_foreman_who_is_a_trainee(
    lessons: Company, sign_in: Callable[[Member], Client]
) -> None:
    """Who holds both roles learns as every trainee does."""
    both = member(lessons, Role.FOREMAN, Role.TRAINEE)
    page = sign_in(both).get(reverse("lesson", kwargs={"slug": MODULE})).content.decode()

    assert "I have read this" in page
    assert Reading.objects.get().account == both.account


def test_it_goes_on_with_the_same_reading_when_the_page_is_opened_again(
    lessons: Company, trainee: Member, sign_in: Callable[[Member], Client]
) -> None:
    """Reloading does not begin another reading; the next day it is another one."""
    client, start = sign_in(trainee), clock.now()
    for later in (timedelta(0), timedelta(minutes=3), timedelta(hours=20)):
        with clock.fixed(start + later):
            client.get(reverse("lesson", kwargs={"slug": MODULE}))

    assert Reading.objects.count() == 2


def test_it_counts_no_more_than_an_hour(lessons: Company, trainee: Member) -> None:
    """A page left open overnight is not read all night."""
    version = library.current_module(MODULE)
    assert version is not None
    start = clock.now()
    with clock.fixed(start):
        reading = services.open_reading(member=trainee, version=version, revision=library.revisions()[0])
    with clock.fixed(start + timedelta(hours=13)):
        end = services.finish_reading(reading=reading)

    assert end.minutes == services.LONGEST_READING


def test_it_says_so_when_the_company_adopted_nothing(
    company: Company, trainee: Member, sign_in: Callable[[Member], Client], few_lessons: Path
) -> None:
    """Without an adopted revision there are no values: the page says what is missing, and no reading begins."""
    from trainer.library.services import load_lessons

    load_lessons(folder=few_lessons)
    page = sign_in(trainee).get(reverse("lesson", kwargs={"slug": MODULE}))

    assert page.status_code == 200
    assert "adopted" in page.content.decode()
    assert not Reading.objects.exists()


@pytest.mark.parametrize("language", ["en-us", "es-us"])
def test_it_gives_the_lesson_in_the_readers_language(
    lessons: Company, trainee: Member, sign_in: Callable[[Member], Client], language: str
) -> None:
    """The heading is the module's title in the account's language."""
    trainee.account.language = language
    trainee.account.save()
    version = library.current_module(MODULE)
    assert version is not None

    page = sign_in(trainee).get(reverse("lesson", kwargs={"slug": MODULE})).content.decode()

    assert f"<h1>{library.module_of(version).title[language[:2]]}</h1>" in page
    assert f'<html lang="{language}">' in page
