"""Reads of people, crews and cards, each in a bounded number of queries."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, cast

from django.core.paginator import Page, Paginator
from django.db.models import Q, QuerySet

from trainer.base import clock
from trainer.base.dated import in_force
from trainer.people.access import CARD_ROLES, Member, memberships_today
from trainer.people.card_ends import days_left, left_on
from trainer.people.models import Account, Company, CompanyAccount, Crew, CrewPlace, Membership, Role, SignInCard

PAGE = 50


@dataclass
class Person:
    """A member of the company with the crews that the person is on."""

    account: Account
    membership: Membership
    crews: list[CrewPlace] = field(default_factory=list)

    @property
    def roles(self) -> list[Any]:
        """The names of the roles, in order, for a page."""
        return self.membership.role_labels

    @property
    def may_have_card(self) -> bool:
        """Whether a card can sign the person in."""
        return not self.membership.role_set.isdisjoint(CARD_ROLES)


@dataclass(frozen=True)
class CardLine:
    """A sign-in card as a page shows it: `state` is `open`, `used`, `ended` or `old`."""

    card: SignInCard
    state: str
    used_at: datetime | None
    ended_at: datetime | date | None

    @property
    def can_be_ended(self) -> bool:
        """Whether ending it would change anything."""
        return self.state in ("open", "used")


def members_on(company: Company, on: date, known_at: datetime | None = None) -> QuerySet[Membership]:
    """Give the memberships with roles that hold in the company on a day, with their accounts."""
    rows = in_force(Membership.objects.filter(company=company), key=Membership.KEY, on=on, known_at=known_at)
    return rows.exclude(roles="").select_related("account").order_by("account__name", "account_id")


def places_on(company: Company, on: date, known_at: datetime | None = None) -> QuerySet[CrewPlace]:
    """Give who is on which crew of the company on a day, with account and crew; leads before members."""
    rows = in_force(CrewPlace.objects.filter(crew__company=company), key=CrewPlace.KEY, on=on, known_at=known_at)
    rows = rows.exclude(part=CrewPlace.Part.LEFT).select_related("account", "crew")
    return rows.order_by("crew__name", "part", "account__name", "account_id")


def crews_by_account(
    company: Company, on: date, known_at: datetime | None = None, accounts: Iterable[int] | None = None
) -> dict[int, list[CrewPlace]]:
    """Give each account's places on crews on a day, by the account's key; one query."""
    places = places_on(company, on, known_at)
    if accounts is not None:
        places = places.filter(account__in=list(accounts))
    found: dict[int, list[CrewPlace]] = defaultdict(list)
    for place in places:
        found[place.account.pk].append(place)
    return found


def people_page(
    member: Member, *, search: str = "", role: str = "", crew: str = "", number: str = "1"
) -> "Page[Person]":
    """Give one page of the people that the member may see today; search is in names and numbers."""
    day = member.today
    rows = members_on(member.company, day).filter(account__in=Account.objects.visible_to(member))
    for word in search.split():
        rows = rows.filter(Q(account__name__icontains=word) | Q(number__icontains=word))
    if role in Role.values:
        rows = rows.filter(roles__contains=role)
    if crew:
        on_crew = places_on(member.company, day).filter(crew__name=crew).order_by()
        rows = rows.filter(account__in=on_crew.values("account"))
    found = Paginator(rows, PAGE).get_page(number)
    crews = crews_by_account(member.company, day, accounts=[row.account.pk for row in found.object_list])
    people = [Person(row.account, row, crews.get(row.account.pk, [])) for row in found.object_list]
    return Page(people, found.number, cast("Paginator[Person]", found.paginator))


def person(member: Member, ref: Any) -> Person | None:
    """Give a person whom the member may see, today; also one who has left, whose membership has no roles."""
    account = Account.objects.visible_to(member).filter(ref=ref).first()
    if account is None:
        return None
    rows = Membership.objects.filter(company=member.company, account=account)
    row = in_force(rows, key=Membership.KEY, on=member.today).first() or rows.order_by("effective_from").first()
    if row is None:
        return None
    crews = crews_by_account(member.company, member.today, accounts=[account.pk])
    return Person(account, row, crews.get(account.pk, []))


def history(member: Member, account: Account) -> list[Membership]:
    """List what the person was to the company, the newest day first, as entered."""
    rows = Membership.objects.filter(company=member.company, account=account)
    return list(rows.order_by("-effective_from", "-recorded_at", "-pk"))


def cards(member: Member, account: Account) -> list[CardLine]:
    """List a person's cards of this company, the newest first; those replaced before anybody used them are left out."""
    rows = (
        SignInCard.objects.visible_to(member).filter(account=account).select_related("use", "end", "account", "company")
    )
    shown = rows.exclude(end__isnull=False, use__isnull=True)
    days = days_left(member.company.pk, account.pk)
    return [_card_line(card, days) for card in shown.order_by("-made_at", "-pk")]


def card(member: Member, ref: Any) -> SignInCard | None:
    """Give a card that the member may see."""
    rows = SignInCard.objects.visible_to(member).select_related("account", "company")
    return rows.filter(ref=ref).first()


def crews(member: Member) -> list[tuple[Crew, list[CrewPlace]]]:
    """List the crews that the member may see with who is on them today; two queries."""
    by_crew: dict[int, list[CrewPlace]] = defaultdict(list)
    for place in places_on(member.company, member.today):
        by_crew[place.crew.pk].append(place)
    return [(crew, by_crew[crew.pk]) for crew in Crew.objects.visible_to(member)]


def crew(member: Member, ref: Any) -> Crew | None:
    """Give a crew that the member may see."""
    return Crew.objects.visible_to(member).filter(ref=ref).first()


def crew_places(crew: Crew, on: date) -> list[CrewPlace]:
    """List who is on the crew on a day, the lead first."""
    return list(places_on(crew.company, on).filter(crew=crew))


def people_for_cards(member: Member, refs: Iterable[str] | None = None, crew: str = "") -> list[Person]:
    """Give the people whose cards the member may make, by name: the chosen ones, or those of a crew, or all."""
    rows = members_on(member.company, member.today).filter(account__in=Account.objects.visible_to(member))
    crews = crews_by_account(member.company, member.today)
    found = [Person(row.account, row, crews.get(row.account.pk, [])) for row in rows]
    if refs is not None:
        wanted = set(refs)
        found = [person for person in found if str(person.account.ref) in wanted]
    if crew:
        found = [person for person in found if any(place.crew.name == crew for place in person.crews)]
    if not member.has(Role.TRAINER, Role.OFFICE, Role.ADMINISTRATOR):  # a foreman: trainees only
        found = [person for person in found if Role.FOREMAN not in person.membership.role_set]
    return [person for person in found if person.may_have_card]


def crew_choices(member: Member) -> QuerySet[Crew]:
    """Give the crews that the member may choose from."""
    return Crew.objects.visible_to(member)


def account_choices(member: Member) -> QuerySet[Account]:
    """Give the people in the company today that the member may choose from, by name."""
    current = members_on(member.company, member.today).order_by()
    return Account.objects.visible_to(member).filter(pk__in=current.values("account")).order_by("name", "pk")


def unknown_crews(member: Member, names: Iterable[str]) -> list[str]:
    """Give the names among these that no crew of the company has, each once, in order."""
    known = {name.lower() for name in Crew.objects.filter(company=member.company).values_list("name", flat=True)}
    missing = {name.lower(): name for name in names if name and name.lower() not in known}
    return sorted(missing.values())


def companies_of(account: Account) -> list[Company]:
    """List the companies that the person holds a role in today, by name."""
    return [row.company for row in memberships_today(account)]


def place_offers(account: Account, *, unanswered: bool = False) -> list[CompanyAccount]:
    """List the companies that added somebody under the account's address and have no yes, by name; or no answer yet.

    Only those in which that person holds a role today are listed.
    """
    rows = CompanyAccount.objects.filter(owner=account).exclude(answers__yes=True)
    if unanswered:
        rows = rows.filter(answers__isnull=True)
    found = list(rows.select_related("company", "account").order_by("company__name"))
    # Companies have one of two or three days at any instant: one query for each day, not for each company.
    held = {day: _roles_held([row.account for row in found], day) for day in {row.company.today() for row in found}}
    return [row for row in found if held[row.company.today()].get((row.company.pk, row.account.pk))]


def place_offer(account: Account, ref: Any) -> CompanyAccount | None:
    """Give one of the offers made to the account."""
    return next((row for row in place_offers(account) if str(row.ref) == str(ref)), None)


def _roles_held(accounts: Iterable[Account], on: date) -> dict[tuple[int, int], str]:
    """Give the roles of the accounts on a day by the keys of company and account; one query."""
    rows = in_force(Membership.objects.filter(account__in=list(accounts)), key=Membership.KEY, on=on)
    return {(company, account): roles for company, account, roles in rows.values_list("company", "account", "roles")}


def _card_line(card: SignInCard, days: list[date]) -> CardLine:
    use, end = getattr(card, "use", None), getattr(card, "end", None)
    ended = end.ended_at if end else left_on(card, days)
    state = "ended" if ended else "used" if use else "old" if card.good_until < clock.now() else "open"
    return CardLine(card, state, use.used_at if use else None, ended)
