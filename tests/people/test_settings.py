"""What a company sets for itself, and what each setting does."""

import json
from datetime import UTC, datetime

import pytest
from django.urls import reverse

from tests.factories import client_for
from trainer.base import clock
from trainer.base.errors import Refused
from trainer.base.models import JournalEntry
from trainer.people import services
from trainer.people.access import Member
from trainer.people.models import Company

pytestmark = pytest.mark.django_db
SENT = {"time_zone": "Pacific/Honolulu", "lapse_notice_days": "90", "practice_months": "3"}


def settings_of(company: Company) -> tuple[str, int, int]:
    """Give what the database holds."""
    company.refresh_from_db()
    return company.time_zone, company.lapse_notice_days, company.practice_months


def test_it_saves_and_journals_what_changed(office: Member, other_company: Company) -> None:
    """The page shows what holds; a change is kept for this company alone, with both values in the journal, once."""
    client, url = client_for(office), reverse("company-settings", args=[office.company.slug])
    shown = client.get(url).content.decode()
    before = settings_of(office.company)
    for _twice in range(2):
        answer = client.post(url, SENT, follow=True)

    assert 'value="60"' in shown
    assert before == settings_of(other_company) == ("America/Chicago", 60, 6)
    assert settings_of(office.company) == ("Pacific/Honolulu", 90, 3)
    assert "Saved." in answer.content.decode()
    line = JournalEntry.objects.get(verb="settings-changed")
    assert (line.actor, line.company) == (office.account.ref, office.company.ref)
    assert json.loads(line.details) == {
        "time_zone": ["America/Chicago", "Pacific/Honolulu"],
        "lapse_notice_days": [60, 90],
        "practice_months": [6, 3],
    }


@pytest.mark.parametrize("language", ["en-us", "es-us"])
def test_it_says_what_each_setting_does(office: Member, language: str) -> None:
    """Nobody has to guess what a number means, in either language."""
    office.account.language = language
    office.account.save()
    page = client_for(office).get(reverse("company-settings", args=[office.company.slug])).content.decode()

    said = {
        "en-us": ["A day begins at midnight here", "“lapses soon”", "deleted for good"],
        "es-us": ["Un día empieza aquí a medianoche", "“vence pronto”", "se borra para siempre"],
    }[language]
    assert all(sentence in page for sentence in said)


def test_it_counts_days_by_the_time_zone(office: Member) -> None:
    """At 8 in the morning UTC it is the day before in Honolulu, and the same day in Chicago."""
    with clock.fixed(datetime(2026, 3, 10, 8, tzinfo=UTC)):
        before = office.company.today()
        changed = services.change_settings(
            company=office.company,
            by=office.account,
            time_zone="Pacific/Honolulu",
            lapse_notice_days=60,
            practice_months=6,
        )
        assert (before.day, changed.today().day) == (10, 9)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("time_zone", "Mars/Base"),
        ("lapse_notice_days", "0"),
        ("lapse_notice_days", "366"),
        ("practice_months", "0"),
        ("practice_months", "61"),
        ("practice_months", "-1"),
        ("practice_months", "1.5"),
        ("practice_months", "9" * 5000),
        ("practice_months", ""),
    ],
)
def test_it_refuses_values_beyond_the_limits(office: Member, field: str, value: str) -> None:
    """The sentence stands beside the field and nothing changes."""
    client, url = client_for(office), reverse("company-settings", args=[office.company.slug])
    page = client.post(url, {**SENT, field: value})

    assert page.status_code in (200, 422)
    assert list(page.context["form"].errors) == [field]
    assert settings_of(office.company) == ("America/Chicago", 60, 6)
    assert not JournalEntry.objects.filter(verb="settings-changed").exists()


def test_it_refuses_an_unknown_time_zone_in_the_service_too(company: Company) -> None:
    """No caller can set a zone that no clock knows."""
    with pytest.raises(Refused) as refused:
        services.change_settings(
            company=company, by=None, time_zone="Mars/Base", lapse_notice_days=60, practice_months=6
        )
    assert refused.value.field == "time_zone"


def test_it_keeps_a_zone_that_the_list_lacks(office: Member) -> None:
    """A company that was set up elsewhere can save its other settings without losing its zone."""
    company = office.company
    company.time_zone = "Europe/Madrid"
    company.save()
    url = reverse("company-settings", args=[company.slug])
    client_for(office).post(url, {**SENT, "time_zone": "Europe/Madrid"})

    assert settings_of(company) == ("Europe/Madrid", 90, 3)
