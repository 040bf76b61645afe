"""Sign-in cards: shown without being used, used up once, ended by staff; and what a card does not open."""

from datetime import timedelta

import pytest
from django.conf import settings
from django.db import connection
from django.test import Client
from django.urls import reverse

from tests.factories import client_for, crew, member
from trainer.base import clock
from trainer.base.errors import Refused
from trainer.base.models import JournalEntry
from trainer.people import queries, services
from trainer.people.access import Member
from trainer.people.models import CardUse, Company, Role, SignInCard

pytestmark = pytest.mark.django_db


@pytest.fixture
def token(trainee: Member, trainer: Member) -> str:
    """Give the token of a card of the trainee."""
    return services.make_card(company=trainee.company, account=trainee.account, by=trainer.account)[1]


def sign_in_by(token: str) -> Client:
    """Give the client of a phone that pressed the card's button."""
    phone = Client()
    answer = phone.post(reverse("card", args=[token]))
    assert answer.status_code == 302
    return phone


def test_it_shows_a_button_without_using_the_card(token: str, trainee: Member) -> None:
    """A message program that looks at the link does not use it up."""
    for _ in range(3):
        page = Client().get(reverse("card", args=[token]))
        assert trainee.account.name in page.content.decode()

    assert not CardUse.objects.exists()
    assert "no-store" in page.headers["Cache-Control"]


def test_it_signs_one_phone_in_for_90_days(token: str, trainee: Member) -> None:
    """The button signs the phone in as the card's person, in the card's company."""
    phone = sign_in_by(token)

    page = phone.get(reverse("my-settings"))
    days = phone.session.get_expiry_age() / 86400

    assert trainee.account.name in page.content.decode()
    assert 89.9 < days <= 90


def test_it_speaks_its_persons_language(company: Company, trainer: Member) -> None:
    """A Spanish reader's card is Spanish on any phone; a language picked on the phone stays with the account."""
    reader = member(company, Role.TRAINEE, language="es-us")
    _card, token = services.make_card(company=company, account=reader.account, by=trainer.account)
    url = reverse("card", args=[token])
    phone = Client(headers={"accept-language": "en-US"})
    shown = phone.get(url)
    phone.post(reverse("language"), {"language": "en-us", "next": url})
    picked = phone.get(url)
    phone.post(url)
    reader.account.refresh_from_db()

    assert "Sí, conectar este teléfono" in shown.content.decode()
    assert shown.headers["Content-Language"] == "es-us"
    assert "Yes, sign this phone in" in picked.content.decode()
    assert reader.account.language == "en-us"


def test_it_works_once(token: str) -> None:
    """The second phone is told why, and whom to ask."""
    sign_in_by(token)
    for answer in (Client().get(reverse("card", args=[token])), Client().post(reverse("card", args=[token]))):
        assert answer.status_code == 410
        assert "already used" in answer.content.decode()

    assert CardUse.objects.count() == 1


def test_it_lets_one_of_two_phones_win(token: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two phones that both saw the card unused: the database lets one use it."""
    card = services.find_card(token)
    monkeypatch.setattr("trainer.people.services.cards.find_card", lambda _token: card)
    services.use_card(token=token)
    with pytest.raises(Refused, match="already used"):
        services.use_card(token=token)

    assert CardUse.objects.count() == 1


def test_it_keeps_the_token_nowhere(token: str) -> None:
    """Who reads the database cannot sign in with what stands there."""
    tables = ["people_signincard", "base_journalentry"]
    with connection.cursor() as cursor:
        for table in tables:
            cursor.execute(f"SELECT * FROM {table}")  # noqa: S608  our own names
            assert token not in repr(cursor.fetchall())

    assert JournalEntry.objects.filter(verb="card-made").exists()


def test_it_is_too_old_after_30_days(token: str) -> None:
    """A card that lay about for a month opens nothing."""
    with clock.fixed(clock.now() + timedelta(days=29)):
        services.find_card(token)
    with clock.fixed(clock.now() + timedelta(days=31)), pytest.raises(Refused, match="too old"):
        services.use_card(token=token)


def test_it_is_no_card_at_all() -> None:
    """A made-up token gets a sentence, not an error."""
    answer = Client().get(reverse("card", args=["0" * 64]))

    assert answer.status_code == 410
    assert "belongs to no card" in answer.content.decode()


def test_it_signs_the_phone_out_when_the_card_is_ended(token: str, trainee: Member, foreman: Member) -> None:
    """A lost phone is out with its next click."""
    phone = sign_in_by(token)
    card = SignInCard.objects.get(use__isnull=False)
    client_for(foreman).post(reverse("card-end", args=[trainee.company.slug, card.ref]))

    answer = phone.get(reverse("my-settings"))

    assert answer.headers["Location"].startswith(reverse(settings.LOGIN_URL))
    assert settings.SESSION_COOKIE_NAME not in phone.cookies or not phone.session.get("card")


def test_it_leaves_nothing_of_an_ended_card_on_the_phone(token: str, trainee: Member, office: Member) -> None:
    """The phone cannot change its person's language any more, and whoever has it can sign in by e-mail again."""
    phone = Client()
    phone.post(reverse("card", args=[token]))
    services.end_membership(company=trainee.company, account=trainee.account, by=office.account)
    phone.post(reverse("language"), {"language": "es-us"})
    trainee.account.refresh_from_db()

    assert trainee.account.language == "en-us"
    assert phone.get("/").status_code == 200
    assert phone.get(reverse("account_login")).status_code == 200


def test_it_signs_nobody_in_who_left(token: str, trainee: Member, office: Member) -> None:
    """A card of somebody who left the company opens nothing, and the phone that it signed in sees nothing."""
    phone = sign_in_by(token)
    _card, second = services.make_card(company=trainee.company, account=trainee.account, by=None)
    services.end_membership(company=trainee.company, account=trainee.account, by=office.account)

    assert Client().post(reverse("card", args=[second])).status_code == 410
    assert phone.get(reverse("my-settings")).status_code in (302, 404)


@pytest.mark.parametrize("planned", [0, 3], ids=["ended today", "ended from a later day"])
def test_it_stays_ended_when_its_person_comes_back(planned: int, trainee: Member, office: Member) -> None:
    """An end of the membership ends its phones and cards for good, whenever it was entered; a new card is needed."""
    company, account = trainee.company, trainee.account
    _card, token = services.make_card(company=company, account=account, by=office.account)
    phone = sign_in_by(token)
    _card, unused = services.make_card(company=company, account=account, by=office.account)
    leaves = trainee.today + timedelta(days=planned)
    services.end_membership(company=company, account=account, by=office.account, effective_from=leaves)
    assert phone.get(reverse("my-settings")).status_code == (200 if planned else 302)
    with clock.fixed(clock.now() + timedelta(days=planned + 10)):
        services.add_person(company=company, name="x", roles=["trainee"], email=account.email, by=office.account)
        assert phone.get(reverse("my-settings")).status_code == 302
        with pytest.raises(Refused, match="was ended"):
            services.use_card(token=unused)
        lines = queries.cards(office, account)
        assert {line.state for line in lines} == {"ended"}
        _card, token = services.make_card(company=company, account=account, by=office.account)
        assert sign_in_by(token).get(reverse("my-settings")).status_code == 200


def test_it_lives_on_when_a_planned_end_is_taken_back(trainee: Member, office: Member) -> None:
    """Whoever stays after all keeps the phone that is signed in."""
    company, account = trainee.company, trainee.account
    _card, token = services.make_card(company=company, account=account, by=office.account)
    phone = sign_in_by(token)
    leaves = trainee.today + timedelta(days=3)
    services.end_membership(company=company, account=account, by=office.account, effective_from=leaves)
    services.add_person(
        company=company, name="x", roles=["trainee"], email=account.email, by=office.account, effective_from=leaves
    )
    with clock.fixed(clock.now() + timedelta(days=5)):
        assert phone.get(reverse("my-settings")).status_code == 200


def test_it_ends_unused_cards_when_a_new_one_is_made(token: str, trainee: Member, trainer: Member) -> None:
    """One good card lies about at a time; phones that are signed in stay so."""
    phone = sign_in_by(token)
    _card, second = services.make_card(company=trainee.company, account=trainee.account, by=trainer.account)
    services.make_card(company=trainee.company, account=trainee.account, by=trainer.account)
    with pytest.raises(Refused, match="was ended"):
        services.find_card(second)

    assert phone.get(reverse("my-settings")).status_code == 200


def test_it_carries_no_more_than_a_trainees_and_foremans_part(company: Company, trainer: Member) -> None:
    """Who also works in the office gets nothing of the office by a card."""
    both = member(company, Role.TRAINEE, Role.OFFICE)
    _card, token = services.make_card(company=company, account=both.account, by=trainer.account)
    phone = sign_in_by(token)

    assert phone.get(reverse("my-settings")).status_code == 200
    assert phone.get(reverse("roster", args=[company.slug])).status_code == 404
    assert client_for(both).get(reverse("roster", args=[company.slug])).status_code == 200


def test_it_opens_no_other_company(company: Company, other_company: Company, trainer: Member) -> None:
    """A card made in one company opens nothing that its person may do in another."""
    person = member(company, Role.TRAINEE)
    services.add_person(
        company=other_company, name="x", email=person.account.email, roles=["foreman", "office"], by=None
    )
    _card, token = services.make_card(company=company, account=person.account, by=trainer.account)
    phone = sign_in_by(token)

    assert phone.get(reverse("people", args=[other_company.slug])).status_code == 404
    assert phone.post(reverse("company-choice"), {"company": str(other_company.ref)}).status_code == 404
    assert client_for(person).get(reverse("people", args=[other_company.slug])).status_code == 200


@pytest.mark.parametrize(
    "name",
    ["account_change_password", "account_reauthenticate", "mfa_index", "mfa_activate_totp", "mfa_add_webauthn"],
)
def test_it_opens_no_page_of_the_account_itself(token: str, name: str) -> None:
    """Who holds somebody's card cannot set a password or a passkey for that person."""
    assert sign_in_by(token).get(reverse(name)).status_code == 404


def test_it_lets_a_foreman_make_cards_for_the_own_crew_alone(
    company: Company, trainee: Member, foreman: Member
) -> None:
    """Not for another crew, not for another foreman, not for the office."""
    services.make_card(company=company, account=trainee.account, by=foreman.account)
    other_crew = crew(company, "Crew B")
    for person in (
        member(company, Role.TRAINEE, crew=other_crew),
        member(company, Role.FOREMAN, crew=other_crew),
        foreman,
    ):
        with pytest.raises(Refused, match="own crews"):
            services.make_card(company=company, account=person.account, by=foreman.account)


def test_it_lets_no_outsider_make_or_end_cards(trainee: Member, outsider: Member, token: str) -> None:
    """Every role in another company is no role here."""
    card = services.find_card(token)
    with pytest.raises(Refused):
        services.make_card(company=trainee.company, account=trainee.account, by=outsider.account)
    with pytest.raises(Refused):
        services.end_card(card=card, by=outsider.account)


def test_it_makes_no_card_for_who_signs_in_by_email(office: Member, administrator: Member) -> None:
    """The office signs in by e-mail and password."""
    with pytest.raises(Refused, match="by e-mail"):
        services.make_card(company=office.company, account=office.account, by=administrator.account)


def test_it_prints_a_sheet_in_each_persons_language(company: Company, trainer: Member) -> None:
    """A card that a Spanish reader gets is in Spanish, whoever prints it; the picture is on the page itself."""
    reader = member(company, Role.TRAINEE, language="es-us", name="Rosa")
    page = client_for(trainer).post(reverse("cards", args=[company.slug]), {"person": [str(reader.account.ref)]})
    html = page.content.decode()

    assert "Escanee con la cámara del teléfono" in html
    assert 'src="data:image/svg+xml' in html
    assert html.count('class="card"') == 1
    assert SignInCard.objects.filter(account=reader.account).count() == 1


def test_it_asks_to_choose_somebody(company: Company, trainer: Member) -> None:
    """A sheet of nobody is not printed."""
    page = client_for(trainer).post(reverse("cards", args=[company.slug]), {})

    assert page.status_code == 422
    assert "Choose at least one person." in page.content.decode()
