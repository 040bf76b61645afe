"""Take a roster of people in: compare its rows with the company, then add all of it or nothing."""

from datetime import date

from django.db import transaction
from django.utils.translation import gettext as _

from trainer.base.errors import Refused
from trainer.people.models import Account, Company, Crew, CrewPlace, Membership, Role
from trainer.people.queries import members_on
from trainer.people.services.crews import make_crew, place_on_crew
from trainer.people.services.members import NEEDS_EMAIL, add_person, roles_on
from trainer.people.services.roster_file import RosterRow
from trainer.people.services.roster_problem import Problem, RosterRefused, adder


def check_roster(company: Company, rows: list[RosterRow], by: Account | None, on: date) -> list[Problem]:
    """Compare the rows with one another and with who is in the company on the day; give every problem."""
    members = list(members_on(company, on).select_related("account__company_account__owner"))
    taken_numbers = {member.number.lower() for member in members if member.number}
    taken_emails = {address.lower() for member in members if (address := _address(member.account))}
    taken_names = {member.account.name.lower() for member in members}
    may_make_administrators = by is None or Role.ADMINISTRATOR in roles_on(company, by, company.today())
    problems: list[Problem] = []
    for row in rows:
        add = adder(problems, row.row)
        if row.email and row.email in taken_emails:
            add("email", _("“%s” belongs to somebody in the company or in a row above.") % row.email, _one_row_each())
        if row.number and row.number.lower() in taken_numbers:
            add("number", _("“%s” belongs to somebody in the company or in a row above.") % row.number, _one_row_each())
        if row.name.lower() in taken_names and not row.number and not row.email:
            add(
                "name",
                _("“%s” is already in the company or in a row above.") % row.name,
                _("If this is somebody else of the same name, give a number; if not, leave the row out."),
            )
        if not row.email and NEEDS_EMAIL.intersection(row.roles):
            add("email", _("There is no address."), _("A trainer, an evaluator and the office sign in by e-mail."))
        if Role.ADMINISTRATOR in row.roles and not may_make_administrators:
            add("roles", _("Only an administrator makes an administrator."), _("Choose another role."))
        taken_emails.add(row.email)
        taken_numbers.add(row.number.lower())
        taken_names.add(row.name.lower())
    return problems


@transaction.atomic
def import_roster(
    *, company: Company, rows: list[RosterRow], by: Account | None, effective_from: date | None = None
) -> list[Membership]:
    """Add everybody on the roster from a day on, make the crews that are missing, and place people on them.

    A foreman leads the crew of the row. Nothing is added when any row has a problem.

    Raises:
        RosterRefused: Some rows have problems; names all of them.
    """
    day = effective_from or company.today()
    Company.objects.select_for_update().get(pk=company.pk)
    problems = check_roster(company, rows, by, day)
    if problems:
        raise RosterRefused(problems)
    crews = {crew.name.lower(): crew for crew in Crew.objects.filter(company=company)}
    accounts = []
    for row in rows:
        try:
            accounts.append(_add_row(company, row, crews, by, day))
        except Refused as refused:
            column = refused.field or ""
            raise RosterRefused(
                [Problem(row.row, column, str(refused), _("Mend the row and send it again."))]
            ) from None
    return list(members_on(company, day).filter(account__in=accounts))


def _add_row(company: Company, row: RosterRow, crews: dict[str, Crew], by: Account | None, day: date) -> Account:
    account = add_person(
        company=company,
        name=row.name,
        email=row.email,
        number=row.number,
        language=row.language,
        roles=row.roles,
        by=by,
        effective_from=day,
    )
    if row.crew:
        key = row.crew.lower()
        if key not in crews:
            crews[key] = make_crew(company=company, name=row.crew, by=by)
        part = CrewPlace.Part.LEAD if Role.FOREMAN in row.roles else CrewPlace.Part.MEMBER
        place_on_crew(crew=crews[key], account=account, part=part, by=by, effective_from=day)
    return account


def _address(account: Account) -> str | None:
    behind = getattr(account, "company_account", None)
    return account.email or (None if behind is None else behind.owner.email)


def _one_row_each() -> str:
    return _("Give each person one row, and leave out people who are already in the company.")
