"""The one place that decides who may see what.

A view is wrapped in `page(roles…)`. It finds the member: the signed-in account with its roles in one company on this
day. An address that starts `/c/COMPANY/` names the company; elsewhere it is the company that the phone was signed in
for, the one that the person chose to work in, or the first that the account belongs to. Rows are reached through
`visible_to(member)` of each model's queryset.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import wraps
from typing import Any, cast

from django.contrib.auth.views import redirect_to_login
from django.db.models import Q, QuerySet
from django.http import Http404, HttpRequest
from django.http.response import HttpResponseBase
from django.views.decorators.cache import never_cache

from trainer.base.dated import in_force
from trainer.people.card_ends import has_ended
from trainer.people.models import Account, Company, CompanyAccount, Crew, CrewPlace, Membership, Role, SignInCard
from trainer.questions.model import Language

CARD = "card"  # session key: ref of the card that signed this phone in
CARD_ROLES = frozenset({Role.TRAINEE.value, Role.FOREMAN.value})  # a card carries no more than these
STAFF = frozenset({Role.FOREMAN, Role.TRAINER, Role.EVALUATOR, Role.OFFICE, Role.ADMINISTRATOR})
WHOLE_COMPANY = frozenset({Role.TRAINER, Role.EVALUATOR, Role.OFFICE, Role.ADMINISTRATOR})


@dataclass(frozen=True)
class Member:
    """An account in one company today, with the roles that it holds there."""

    account: Account
    company: Company
    roles: frozenset[str]

    def has(self, *roles: str) -> bool:
        """Tell whether the member holds any of the roles."""
        return not self.roles.isdisjoint(roles)

    @property
    def sees_company(self) -> bool:
        """Whether the member may see everybody in the company, not just the own crew or self."""
        return not self.roles.isdisjoint(WHOLE_COMPANY)

    @property
    def today(self) -> date:
        """The day it is at the member's company."""
        return cast(date, self.company.today())

    @property
    def language(self) -> Language:
        """`en` or `es`: the language of content for this member."""
        return self.account.content_language


class MemberRequest(HttpRequest):
    """A request whose member is known; views behind `page` receive it."""

    member: Member


def memberships_on(day: date, account: Account) -> list[Membership]:
    """List the memberships with roles that the person holds on a day, with their companies and accounts there."""
    rows = in_force(Membership.objects.filter(account__in=accounts_of(account)), key=Membership.KEY, on=day)
    return [row for row in rows.select_related("company", "account").order_by("company__name") if row.roles]


def memberships_today(account: Account) -> list[Membership]:
    """List the memberships with roles that the person holds on each company's own day, by company; few queries."""
    companies = Company.objects.filter(memberships__account__in=accounts_of(account)).distinct()
    days = sorted({company.today() for company in companies})
    held = [row for day in days for row in memberships_on(day, account) if row.company.today() == day]
    return sorted(held, key=lambda row: row.company.name)


def accounts_of(account: Account) -> QuerySet[Account]:
    """Give the account and those that companies made for its person, where the person said yes."""
    taken = CompanyAccount.objects.filter(owner=account, answers__yes=True)
    return Account.objects.filter(Q(pk=account.pk) | Q(pk__in=taken.values("account")))


def member_of(account: Account, company: Company) -> Member | None:
    """Give the account as a member of the company today; None when it holds no role there."""
    rows = in_force(Membership.objects.filter(company=company, account=account), key=Membership.KEY, on=company.today())
    row = rows.first()
    return Member(account, company, row.role_set) if row is not None and row.roles else None


def signed_in_member(account: Account, company: Company) -> Member | None:
    """Give the person who signed in as a member of the company, under the account that the company knows them by."""
    own = member_of(account, company)
    if own is not None:
        return own
    here = CompanyAccount.objects.filter(company=company, owner=account, answers__yes=True).select_related("account")
    found = here.first()
    return None if found is None else member_of(found.account, company)


def crews_led(member: Member) -> list[Crew]:
    """List the crews that the member leads today."""
    places = in_force(
        CrewPlace.objects.filter(account=member.account, crew__company=member.company),
        key=CrewPlace.KEY,
        on=member.today,
    )
    leads = places.filter(part=CrewPlace.Part.LEAD).select_related("crew").order_by("crew__name")
    return [place.crew for place in leads]


def account_ids_visible_to(member: Member) -> set[int] | None:
    """Give the accounts whose rows the member may see: None for the whole company.

    A foreman sees the own crews as they stand today and themself; a trainee sees only themself.
    """
    if member.sees_company:
        return None
    visible = {member.account.pk}
    if member.has(Role.FOREMAN):
        crews = crews_led(member)
        places = in_force(CrewPlace.objects.filter(crew__in=crews), key=CrewPlace.KEY, on=member.today)
        visible.update(places.exclude(part=CrewPlace.Part.LEFT).values_list("account_id", flat=True))
    return visible


def find_member(request: HttpRequest, company_slug: str | None) -> Member | None:
    """Find the member that a request speaks for; None when the account has no place there.

    A phone signed in by a card speaks for the card's company alone, and as trainee or foreman at most: the card was
    made by somebody who need not be trusted with what the person may do elsewhere.
    """
    account = cast(Account, request.user)
    signed_for: str | None = request.session.get("company")
    if CARD in request.session:
        company = Company.objects.filter(ref=str(signed_for)).first()
        if company is None or company_slug not in (None, company.slug):
            return None
        return by_card(member_of(account, company))
    if company_slug is not None:
        company = Company.objects.filter(slug=company_slug).first()
        return None if company is None else signed_in_member(account, company)
    chosen = Company.objects.filter(ref=signed_for).first() if signed_for is not None else None
    if chosen is not None and (member := signed_in_member(account, chosen)) is not None:
        return member  # else the person has left it since it was chosen
    for company in Company.objects.filter(memberships__account__in=accounts_of(account)).distinct():
        member = signed_in_member(account, company)
        if member is not None:
            return member
    return None


def by_card(member: Member | None) -> Member | None:
    """Give the member with no more than the roles that a card carries; None when none is left."""
    if member is None or member.roles.isdisjoint(CARD_ROLES):
        return None
    return Member(member.account, member.company, member.roles & CARD_ROLES)


def not_by_card(view: "View") -> "View":
    """Close a page of the account itself, such as its password, to phones that were signed in by a card.

    Whoever signed in by e-mail gets the page with the own title block and menu.
    """

    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if CARD in request.session:
            raise Http404
        if request.user.is_authenticated:
            request.member = find_member(request, None)  # type: ignore[attr-defined]
        return view(request, *args, **kwargs)

    return guarded


def card_was_ended(request: HttpRequest) -> bool:
    """Tell whether this phone's card has been ended since it signed in, or its person has left the company."""
    ref = request.session.get(CARD)
    if ref is None:
        return False
    card = SignInCard.objects.select_related("company", "end").filter(ref=ref).first()
    return card is None or has_ended(card)


View = Callable[..., HttpResponseBase]


def page(*roles: str) -> Callable[[View], View]:
    """Let a view in for members who hold one of the roles; others get 404, strangers the sign-in page.

    404 rather than 403: an address tells nobody that it exists in a company they do not belong to.
    """

    def wrap(view: View) -> View:
        @never_cache
        @wraps(view)
        def guarded(request: MemberRequest, *args: Any, company: str | None = None, **kwargs: Any) -> HttpResponseBase:
            if not request.user.is_authenticated:
                return redirect_to_login(request.get_full_path())
            if card_was_ended(request):
                request.session.flush()
                return redirect_to_login(request.get_full_path())
            member = find_member(request, company)
            if member is None or not member.has(*roles):
                raise Http404
            request.member = member
            return view(request, *args, **kwargs)

        guarded.roles = frozenset(roles)  # type: ignore[attr-defined]  # read by the test that walks every address
        return guarded

    return wrap
