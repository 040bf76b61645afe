"""Changes to companies, people and roles."""

from collections.abc import Iterable
from datetime import date

from django.core.exceptions import ValidationError
from django.core.validators import MaxLengthValidator, validate_email
from django.db import transaction
from django.utils.translation import gettext as _

from trainer.base import clock, journal
from trainer.base.dated import account_ref, in_force
from trainer.base.errors import Refused
from trainer.base.texts import one_line
from trainer.people.access import accounts_of
from trainer.people.models import Account, CardEnd, Company, CrewPlace, Language, Membership, Role, SignInCard
from trainer.people.services.places import find_account, make_account

MANAGERS = frozenset({Role.OFFICE.value, Role.ADMINISTRATOR.value})
MOST_EMAIL = 254  # letters of an address, after RFC 5321 and as the column takes
NEEDS_EMAIL = frozenset({Role.TRAINER.value, Role.EVALUATOR.value, Role.OFFICE.value, Role.ADMINISTRATOR.value})


@transaction.atomic
def add_company(
    *,
    name: str,
    slug: str,
    by: Account | None,
    time_zone: str = "America/Chicago",
    is_provider: bool = False,
) -> Company:
    """Add a company, the tenant of everything that it keeps here."""
    if Company.objects.filter(slug=slug).exists():
        raise Refused(_("Another company has this short name in its addresses; choose another."), field="slug")
    company = Company.objects.create(name=name.strip(), slug=slug, time_zone=time_zone, is_provider=is_provider)
    journal.write("company-added", company, by=by, company=company)
    return company


@transaction.atomic
def add_person(
    *,
    company: Company,
    name: str,
    roles: Iterable[str],
    by: Account | None,
    effective_from: date | None = None,
    email: str | None = None,
    number: str = "",
    language: str = Language.ENGLISH,
) -> Account:
    """Make a person a member of the company from a day on (today by default).

    Somebody who already has an account under this e-mail address, in another company, gets a second one here, under
    the name entered here, and is asked whether that is them: neither company learns anything of the other. The program
    itself (no `by`) sets up people whose agreement it has: they have a place here under the account that they have.
    """
    Company.objects.select_for_update().get(pk=company.pk)
    name, number = one_line(name), one_line(number)
    if not name:
        raise Refused(_("Enter the person's name as it should stand on records."), field="name")
    email = clean_email(email)
    day = effective_from or company.today()
    behind, account = find_account(company, email, by)
    if account is not None and roles_on(company, account, day):
        raise Refused(_("Somebody with this e-mail address already belongs to the company."), field="email")
    _refuse_number_in_use(company, number, account, day)
    if account is None:
        _refuse_unknown_language(language)
        account = make_account(company, behind, name=name, email=email, language=language)
    _write_membership(company, account, roles, number=number, by=by, day=day)
    journal.write("person-added", account, by=by, company=company, roles=_ordered(roles), day=day.isoformat())
    return account


@transaction.atomic
def change_roles(
    *,
    company: Company,
    account: Account,
    roles: Iterable[str],
    by: Account | None,
    effective_from: date | None = None,
    number: str | None = None,
) -> Membership:
    """Give a member these roles, and no others, from a day on; `number` None leaves the person's number as it is."""
    Company.objects.select_for_update().get(pk=company.pk)
    day = effective_from or company.today()
    current = membership_on(company, account, day)
    if current is None or not current.roles:
        raise Refused(_("This person does not belong to the company on that day; add the person first."))
    number = current.number if number is None else one_line(number)
    _refuse_number_in_use(company, number, account, day)
    wanted = _ordered(roles)
    _refuse_losing_last_manager(company, account, wanted, day)
    row = _write_membership(company, account, wanted, number=number, by=by, day=day)
    journal.write("roles-changed", account, by=by, company=company, roles=wanted, day=day.isoformat())
    return row


@transaction.atomic
def end_membership(
    *, company: Company, account: Account, by: Account | None, effective_from: date | None = None
) -> Membership:
    """End a membership from a day on: the first day on which the person no longer belongs to the company.

    Changes planned for later days are ended too, and the person leaves the company's crews. From the day on no card
    made before it opens anything, also when the person comes back (`card_ends`); those made today are ended by hand.
    """
    Company.objects.select_for_update().get(pk=company.pk)
    day = effective_from or company.today()
    current = membership_on(company, account, day)
    if current is None or not current.roles:
        raise Refused(_("This person does not belong to the company on that day."))
    planned = Membership.objects.filter(company=company, account=account, effective_from__gt=day).exclude(roles="")
    later_days = sorted(set(planned.values_list("effective_from", flat=True)))
    for lost_on in [day, *later_days]:
        _refuse_losing_last_manager(company, account, [], lost_on)
        _refuse_own_rise_or_fall(company, roles_on(company, account, lost_on), by)
    row = _end_row(company, account, current.number, by, day)
    for later in later_days:
        _end_row(company, account, current.number, by, later)
    _leave_crews(company, account, by, day)
    if day <= company.today() and by is not None:
        for card in SignInCard.objects.filter(company=company, account=account, end__isnull=True):
            CardEnd.objects.create(card=card, ended_by=by)
    journal.write("membership-ended", account, by=by, company=company, day=day.isoformat())
    return row


@transaction.atomic
def change_language(*, account: Account, language: str) -> None:
    """Set the language that the person reads pages and lessons in."""
    _refuse_unknown_language(language)
    account.language = language
    account.save(update_fields=["language"])
    accounts_of(account).exclude(pk=account.pk).update(language=language)


# ------------------------------------------------------------------------------------------------------ what they use
def _ordered(roles: Iterable[str]) -> list[str]:
    wanted = {str(role) for role in roles}
    unknown = wanted - set(Role.values)
    if unknown:
        raise Refused(_("There is no role “%(role)s”.") % {"role": min(unknown)}, field="roles")
    return [value for value in Role.values if value in wanted]


def _write_membership(
    company: Company, account: Account, roles: Iterable[str], *, number: str, by: Account | None, day: date
) -> Membership:
    wanted = _ordered(roles)
    if not wanted:
        raise Refused(_("Choose at least one role."), field="roles")
    if not account.address and NEEDS_EMAIL.intersection(wanted):
        raise Refused(_("A trainer, an evaluator and the office sign in by e-mail: enter an address."), field="email")
    before = roles_on(company, account, day)
    _refuse_own_rise_or_fall(company, before.symmetric_difference(wanted), by)
    return Membership.objects.create(
        company=company,
        account=account,
        roles=" ".join(wanted),
        number=number,
        effective_from=day,
        recorded_at=clock.now(),
        recorded_by=account_ref(by),
    )


def _end_row(company: Company, account: Account, number: str, by: Account | None, day: date) -> Membership:
    return Membership.objects.create(
        company=company,
        account=account,
        roles="",
        number=number,
        effective_from=day,
        recorded_at=clock.now(),
        recorded_by=account_ref(by),
    )


def _leave_crews(company: Company, account: Account, by: Account | None, day: date) -> None:
    places = CrewPlace.objects.filter(crew__company=company, account=account)
    for crew_id in sorted(set(places.values_list("crew_id", flat=True))):
        of_crew = places.filter(crew_id=crew_id)
        held = in_force(of_crew, key=CrewPlace.KEY, on=day).first()
        days = set(of_crew.filter(effective_from__gt=day).values_list("effective_from", flat=True))
        if held is not None and held.part != CrewPlace.Part.LEFT:
            days.add(day)
        for leaving in sorted(days):
            CrewPlace.objects.create(
                crew_id=crew_id,
                account=account,
                part=CrewPlace.Part.LEFT,
                effective_from=leaving,
                recorded_at=clock.now(),
                recorded_by=account_ref(by),
            )


def membership_on(company: Company, account: Account, day: date) -> Membership | None:
    """Give the row that says what the person is to the company on a day, ended or not; None when there is none."""
    rows = Membership.objects.filter(company=company, account=account)
    return in_force(rows, key=Membership.KEY, on=day).first()


def roles_on(company: Company, account: Account, day: date) -> frozenset[str]:
    """Give the roles that the person holds in the company on a day."""
    row = membership_on(company, account, day)
    return frozenset() if row is None else row.role_set


def clean_email(email: str | None) -> str | None:
    """Give an address in small letters, None for nothing; refuse what is no address."""
    email = (email or "").strip().lower()
    if not email:
        return None
    try:
        validate_email(email)
        MaxLengthValidator(MOST_EMAIL)(email)
    except ValidationError:
        raise Refused(_("This is no e-mail address; write it like name@company.example."), field="email") from None
    return email


def _refuse_unknown_language(language: str) -> None:
    if language not in Language.values:
        raise Refused(_("Choose English or Spanish."), field="language")


def _refuse_number_in_use(company: Company, number: str, account: Account | None, day: date) -> None:
    if not number:
        return
    rows = in_force(Membership.objects.filter(company=company), key=Membership.KEY, on=day)
    taken = rows.filter(number__iexact=number).exclude(roles="")
    if account is not None:
        taken = taken.exclude(account=account)
    if taken.exists():
        raise Refused(_("Somebody else in the company has the number %(number)s.") % {"number": number}, field="number")


def _refuse_own_rise_or_fall(company: Company, changed: frozenset[str], by: Account | None) -> None:
    """Let only an administrator give or take that role; the program itself (no `by`) sets up the first one."""
    if Role.ADMINISTRATOR not in changed or by is None:
        return
    if Role.ADMINISTRATOR not in roles_on(company, by, company.today()):
        raise Refused(_("Only an administrator gives or takes the role of administrator."), field="roles")


def _refuse_losing_last_manager(company: Company, account: Account, wanted: Iterable[str], day: date) -> None:
    if MANAGERS.intersection(wanted) or not MANAGERS.intersection(roles_on(company, account, day)):
        return
    rows = in_force(Membership.objects.filter(company=company), key=Membership.KEY, on=day).exclude(account=account)
    if not any(MANAGERS.intersection(row.role_set) for row in rows):
        raise Refused(
            _("Nobody would be left to manage the company's people: give somebody else the office role first.")
        )
