"""Make people and companies for tests, through the services that the program itself uses."""

from datetime import date
from typing import Any

import factory
from allauth.account.internal.flows.login import record_authentication
from django.conf import settings
from django.contrib.auth import login
from django.http import HttpRequest
from django.test import Client
from django.utils.module_loading import import_string

from trainer.people import services
from trainer.people.access import Member, member_of
from trainer.people.models import Account, Company, Crew, CrewPlace, Role

LONG_AGO = date(2020, 1, 1)
PASSWORD = "a long enough password"


class CompanyFactory(factory.django.DjangoModelFactory[Company]):
    """A roofing company of our own invention."""

    class Meta:
        model = Company

    name = factory.Sequence(lambda number: f"Roofing company {number}")
    slug = factory.Sequence(lambda number: f"company-{number}")


class AccountFactory(factory.django.DjangoModelFactory[Account]):
    """A person with an e-mail address and the password `PASSWORD`, in no company yet."""

    class Meta:
        model = Account
        skip_postgeneration_save = True

    name = factory.Sequence(lambda number: f"Person {number}")
    email = factory.Sequence(lambda number: f"person-{number}@company.example")

    @factory.post_generation
    def password(self: Any, create: bool, extracted: str | None, **_kwargs: Any) -> None:
        """Set the password, so that the sign-in page can be used."""
        self.set_password(extracted or PASSWORD)
        self.save()


def member(
    company: Company,
    *roles: str,
    effective_from: date = LONG_AGO,
    crew: Crew | None = None,
    number: str = "",
    **account: Any,
) -> Member:
    """Give somebody who holds the roles (trainee by default) in the company, on the crew where one is named.

    A foreman named with a crew leads it.
    """
    held = [str(role) for role in roles] or [Role.TRAINEE.value]
    person = AccountFactory.create(**account)
    services.add_person(
        company=company,
        name=person.name,
        email=person.email,
        roles=held,
        by=None,
        effective_from=effective_from,
        number=number,
    )
    if crew is not None:
        part = CrewPlace.Part.LEAD if Role.FOREMAN in held else CrewPlace.Part.MEMBER
        services.place_on_crew(crew=crew, account=person, part=part, by=None, effective_from=effective_from)
    found = member_of(person, company)
    if found is None:
        raise ValueError(f"{person} holds no role in {company} today: effective_from is {effective_from}")
    return found


def crew(company: Company, name: str = "Crew A") -> Crew:
    """Give a crew of the company."""
    return services.make_crew(company=company, name=name, by=None)


def client_for(signed_in: Member | Account, **defaults: Any) -> Client:
    """Give a test client that has just signed in by password, for a member in the member's company."""
    client = Client(**defaults)
    account = signed_in.account if isinstance(signed_in, Member) else signed_in
    request = HttpRequest()
    request.session = import_string(f"{settings.SESSION_ENGINE}.SessionStore")()
    login(request, account, backend="django.contrib.auth.backends.ModelBackend")
    if isinstance(signed_in, Member):
        request.session["company"] = str(signed_in.company.ref)
    record_authentication(request, account, method="password", reauthenticated=True)
    request.session.save()
    client.cookies[settings.SESSION_COOKIE_NAME] = str(request.session.session_key)
    return client
