"""One person in two companies: neither learns anything of the other, and one sign-in needs the person's yes."""

from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.factories import AccountFactory, CompanyFactory, client_for, member
from trainer.base import clock
from trainer.base.errors import Refused
from trainer.people import queries, services
from trainer.people.access import Member, memberships_on, memberships_today
from trainer.people.models import Account, Company, Role

pytestmark = pytest.mark.django_db


@pytest.fixture
def elsewhere(other_company: Company) -> Member:
    """Give a trainer of another company, who reads Spanish."""
    return member(other_company, Role.TRAINER, name="Rosalind Elsewhere", language="es-us", email="ro@home.example")


def add(office: Member, email: str, *roles: str, name: str = "R. Typed") -> Client:
    """Add somebody by e-mail on the office's page, and give the client on the person's page."""
    client = client_for(office)
    sent = {
        "name": name,
        "email": email,
        "language": "en-us",
        "roles": list(roles) or ["trainer"],
        "effective_from": office.today.isoformat(),
    }
    client.added = client.post(reverse("person-new", args=[office.company.slug]), sent, follow=True)  # type: ignore[attr-defined]
    return client


def added(office: Member) -> Account:
    """Give the account that the office added last."""
    return Account.objects.filter(memberships__company=office.company).latest("pk")


def test_it_shows_the_office_what_it_entered_and_nothing_else(office: Member, elsewhere: Member) -> None:
    """A known address and an unknown one lead to pages that differ in nothing but what was typed."""
    pages = {}
    for email in ("ro@home.example", "no@home.example"):
        client = add(office, email)
        page = client.added.content.decode()  # type: ignore[attr-defined]
        assert client.added.status_code == 200  # type: ignore[attr-defined]
        for secret in ("Rosalind", "Elsewhere", elsewhere.company.name):
            assert secret not in page
            assert secret not in client.get(reverse("people", args=[office.company.slug])).content.decode()
        main = page.split("<main")[1].split("</main>")[0].replace(email, "ADDRESS")
        token = main.split('name="csrfmiddlewaretoken" value="')[1].split('"')[0]
        pages[email] = main.replace(token, "").replace(str(added(office).ref), "")
    known, unknown = pages.values()
    assert "R. Typed" in known
    assert "ADDRESS" in known
    assert known == unknown


def test_it_shows_the_maker_of_a_card_nothing_else_either(office: Member, elsewhere: Member) -> None:
    """Whoever makes a card can use it: its page and what it opens know only this company."""
    add(office, "ro@home.example", "trainee")
    _card, token = services.make_card(company=office.company, account=added(office), by=office.account)
    phone = Client()
    page = phone.get(reverse("card", args=[token])).content.decode()
    phone.post(reverse("card", args=[token]))
    opened = phone.get("/", follow=True)

    assert "Are you R. Typed?" in page
    for text in (page, opened.content.decode()):
        assert "Rosalind" not in text
        assert elsewhere.company.name not in text


def test_it_opens_nothing_until_the_person_says_yes(office: Member, elsewhere: Member) -> None:
    """The person signs in, is asked, says no and later yes; only then does the sign-in work in the second company."""
    add(office, "ro@home.example")
    client = client_for(elsewhere.account)
    people = reverse("people", args=[office.company.slug])
    assert client.get(people).status_code == 404
    page = client.get("/")
    offer = page.context["offers"][0]
    assert f"{office.company.name} ha agregado a “R. Typed”" in page.content.decode()

    client.post(reverse("place-answer", args=[offer.ref]), {"answer": "no"})
    after_no = client.get("/")
    refused = client.get(people).status_code
    settings = client.get(reverse("my-settings")).content.decode()
    client.post(reverse("place-answer", args=[offer.ref]), {"answer": "yes"})
    client.post(reverse("place-answer", args=[offer.ref]), {"answer": "no"})

    assert after_no.headers["Location"] == reverse("trainer-day", args=[elsewhere.company.slug])
    assert refused == 404
    assert "R. Typed" in settings
    assert client.get(people).status_code == 200
    assert [place["company"] for place in client.get("/").context["places"]] == [
        elsewhere.company,
        office.company,
    ]
    assert client.get(people).context["member"].account == added(office)


def test_it_still_hides_the_name_after_the_yes(office: Member, elsewhere: Member) -> None:
    """The company reads the name that it gave; the language becomes the one that the person reads."""
    add(office, "ro@home.example")
    here = added(office)
    services.answer_place(company_account=here.company_account, yes=True)
    page = client_for(office).get(reverse("person", args=[office.company.slug, here.ref])).content.decode()

    assert "Rosalind" not in page
    assert "R. Typed" in page
    here.refresh_from_db()
    assert here.language == "es-us"
    services.change_language(account=elsewhere.account, language="en-us")
    here.refresh_from_db()
    assert here.language == "en-us"


def test_it_lets_the_person_change_between_companies(office: Member, elsewhere: Member) -> None:
    """My settings lists both companies in either, and choosing one works there."""
    add(office, "ro@home.example")
    services.answer_place(company_account=added(office).company_account, yes=True)
    client = client_for(elsewhere)
    for company in (office.company, elsewhere.company):
        client.post(reverse("company-choice"), {"company": str(company.ref)})
        page = client.get(reverse("my-settings"))
        assert page.context["member"].company == company
        assert [each.name for each in page.context["companies"]] == ["Other Roofing", "Own Roofing"]


def test_it_knows_the_address_as_the_company_s_own(office: Member, elsewhere: Member) -> None:
    """The address cannot be added twice, holds for roles that need one, and comes back to the same account."""
    add(office, "ro@home.example", "trainee")
    here = added(office)
    client = add(office, "RO@home.example")
    assert "already belongs to the company" in client.added.content.decode()  # type: ignore[attr-defined]
    services.change_roles(company=office.company, account=here, roles=["office"], by=office.account)
    row = queries.members_on(office.company, office.today).get(account=here)
    assert row.role_set == {"office"}
    services.end_membership(company=office.company, account=here, by=office.account)
    add(office, "ro@home.example")
    assert queries.members_on(office.company, office.today).get(account=here).role_set == {"trainer"}
    roster = services.check_roster(
        office.company,
        services.read_roster("people.csv", b"name,email\nAna,ro@home.example\n"),
        office.account,
        office.today,
    )
    assert [problem.column for problem in roster] == ["email"]


def test_it_takes_no_answer_from_anybody_else(office: Member, elsewhere: Member, outsider: Member) -> None:
    """Another account, a stranger and a phone signed in by a card cannot say yes."""
    add(office, "ro@home.example", "trainee")
    offer = added(office).company_account
    url = reverse("place-answer", args=[offer.ref])
    assert client_for(outsider).post(url, {"answer": "yes"}).status_code == 404
    assert Client().post(url, {"answer": "yes"}).status_code == 302
    services.change_roles(company=elsewhere.company, account=elsewhere.account, roles=["trainer", "trainee"], by=None)
    _card, token = services.make_card(company=elsewhere.company, account=elsewhere.account, by=None)
    phone = Client()
    phone.post(reverse("card", args=[token]))
    assert phone.post(url, {"answer": "yes"}).status_code == 404
    assert not offer.answers.exists()
    assert "R. Typed" not in phone.get(reverse("my-settings")).content.decode()


def test_it_ends_with_the_membership(office: Member, elsewhere: Member) -> None:
    """Whoever leaves the second company works there no more, and keeps the first."""
    add(office, "ro@home.example")
    here = added(office)
    services.answer_place(company_account=here.company_account, yes=True)
    day = clock.now().date() + timedelta(days=1)
    assert len(memberships_on(day, elsewhere.account)) == 2
    services.end_membership(company=office.company, account=here, by=office.account)

    assert [row.company for row in memberships_on(day, elsewhere.account)] == [elsewhere.company]
    people = reverse("people", args=[office.company.slug])
    assert client_for(elsewhere.account).get(people).status_code == 404


def test_it_asks_whoever_has_no_place_left(office: Member) -> None:
    """Somebody who left the first company is asked on the first page, also after a no."""
    account = AccountFactory.create(email="gone@home.example")
    add(office, "gone@home.example")
    client = client_for(account)
    for answer in ("no", "yes"):
        page = client.get("/")
        assert page.status_code == 200
        client.post(reverse("place-answer", args=[page.context["offers"][0].ref]), {"answer": answer})

    assert client.get("/").headers["Location"] == reverse("trainer-day", args=[office.company.slug])


def test_it_gives_a_place_right_away_when_a_roster_names_nobody_known(office: Member) -> None:
    """With nobody behind the address the account signs in by it, and nobody is asked."""
    with pytest.raises(Refused):
        services.add_person(company=office.company, name="A", roles=["trainer"], by=office.account)
    account = services.add_person(
        company=office.company, name="A", roles=["trainer"], by=office.account, email="new@home.example"
    )

    assert account.email == account.address == "new@home.example"
    assert queries.place_offers(account) == []


def test_it_opens_the_chosen_company_s_first_page(office: Member, other_company: Company) -> None:
    """A trainee of two companies, whose first page has the same address in both, gets that of the company chosen."""
    trainee = member(other_company, Role.TRAINEE, email="ro@home.example")
    add(office, "ro@home.example", "trainee")
    services.answer_place(company_account=added(office).company_account, yes=True)
    client = client_for(trainee.account)
    page = client.get("/")
    for company in (office.company, other_company):
        assert f'name="company" value="{company.ref}"' in page.content.decode()
        shown = client.post(reverse("company-choice"), {"company": str(company.ref)}, follow=True)
        assert shown.redirect_chain[-1][0] == reverse("today")
        assert shown.context["member"].company == company
        assert client.get("/").headers["Location"] == reverse("today")


def test_it_leads_on_whoever_has_not_answered(office: Member, elsewhere: Member) -> None:
    """The question keeps nobody from working: choosing the own company goes on, and my settings still ask."""
    add(office, "ro@home.example")
    client = client_for(elsewhere.account)
    assert client.get("/").context["offers"]
    shown = client.post(reverse("company-choice"), {"company": str(elsewhere.company.ref)}, follow=True)
    assert shown.redirect_chain[-1][0] == reverse("trainer-day", args=[elsewhere.company.slug])
    assert client.get(reverse("my-settings")).context["offers"]
    assert client_for(elsewhere.account).get("/").context["offers"]


def test_it_leads_back_to_the_company_that_is_left(office: Member, other_company: Company) -> None:
    """Whose chosen company ends the membership goes on in the other one without signing in anew."""
    trainee = member(other_company, Role.TRAINEE, email="ro@home.example")
    add(office, "ro@home.example", "trainee")
    here = added(office)
    services.answer_place(company_account=here.company_account, yes=True)
    client = client_for(trainee.account)
    client.post(reverse("company-choice"), {"company": str(office.company.ref)})
    services.end_membership(company=office.company, account=here, by=office.account)
    shown = client.get("/", follow=True)

    assert shown.status_code == 200
    assert shown.context["member"].company == other_company


def test_it_asks_for_many_companies_in_as_many_queries_as_for_one(office: Member, elsewhere: Member) -> None:
    """The pages that ask read no more often when more companies have added somebody."""
    add(office, "ro@home.example")
    client = client_for(elsewhere.account)
    pages = ("/", reverse("my-settings"))
    client.get("/")
    counts = []
    for more in (0, 3):
        for number in range(more):
            company = CompanyFactory.create(name=f"Further {number}")
            services.add_person(
                company=company,
                name="R.",
                roles=["trainee"],
                by=member(company, Role.OFFICE).account,
                email="ro@home.example",
            )
        for url in pages:
            with CaptureQueriesContext(connection) as found:
                assert len(client.get(url).context["offers"]) == 1 + more
            counts.append(len(found))

    assert counts[:2] == counts[2:]


def test_it_keeps_each_answer_once(office: Member, elsewhere: Member) -> None:
    """Saying no again and again adds nothing to what is never deleted."""
    add(office, "ro@home.example")
    offer = added(office).company_account
    for answer in ("no", "no", "", "yes"):
        client_for(elsewhere.account).post(reverse("place-answer", args=[offer.ref]), {"answer": answer})

    assert list(offer.answers.order_by("pk").values_list("yes", flat=True)) == [False, True]


@pytest.mark.parametrize(("zone", "instant"), [("Pacific/Honolulu", 6), ("Pacific/Guam", 18)])
def test_it_goes_by_the_day_of_the_company(company: Company, zone: str, instant: int) -> None:
    """On the evening of the last day and on the morning of the first one, the sign-in leads into the company."""
    company.time_zone = zone
    company.save()
    with clock.fixed(datetime(2026, 3, 10, instant, tzinfo=UTC)):
        day = company.today()
        assert day != clock.now().date()
        trainer = member(company, Role.TRAINER, effective_from=day)
        services.end_membership(
            company=company, account=trainer.account, by=None, effective_from=day + timedelta(days=1)
        )
        office = member(company, Role.OFFICE)
        assert [row.company for row in memberships_today(trainer.account)] == [company]
        assert queries.companies_of(trainer.account) == [company]
        assert [row.company for row in memberships_today(office.account)] == [company]


def test_it_lists_many_companies_in_as_many_queries_as_two(elsewhere: Member) -> None:
    """Whoever serves many companies waits no longer for the first page."""
    client, counts = client_for(elsewhere.account), []
    for more in (1, 4):
        for number in range(more):
            company = CompanyFactory.create(name=f"Further {more} {number}")
            services.add_person(company=company, name="R.", roles=["trainer"], by=None, email="ro@home.example")
        with CaptureQueriesContext(connection) as found:
            assert len(client.get("/").context["places"]) >= 2
        counts.append(len(found))

    assert counts[0] == counts[1]
