"""How far each person is with an assignment: minutes read, practice, and whether the module is completed.

Completion is known above this app; whoever keeps records says how to look it up.
"""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from datetime import date

from trainer.base import clock
from trainer.people.models import Account, Company
from trainer.training import queries
from trainer.training.models import Assignment, PracticeCase


@dataclass(frozen=True)
class Completion:
    """A module that somebody completed: held from a day on, until a last day where there is one."""

    account_id: int
    module: str
    held_from: date
    held_until: date | None


LookUp = Callable[[Company, Collection[str], Collection[Account]], Iterable[Completion]]
_lookups: list[LookUp] = []


@dataclass(frozen=True)
class Progress:
    """One person's progress; `completed_on` is the day of the newest completion made since the assignment or before."""

    account: Account
    minutes: int
    tries: int
    right: int
    completed_on: date | None


def look_up_completions_with(look_up: LookUp) -> None:
    """Say how to find what was completed, oldest first: by company, modules and people."""
    _lookups[:] = [look_up]


def completions(company: Company, modules: Collection[str], people: Collection[Account]) -> list[Completion]:
    """Give what the people completed of the modules, oldest first, in one query."""
    return list(_lookups[0](company, modules, people)) if _lookups else []


def completed_days(assignment: Assignment, among: Iterable[Completion]) -> dict[int, date]:
    """Give the day from which each person holds what was assigned, by account id; who does not is left out.

    A completion counts when it held on the day of the assignment or was made since: one that had lapsed does not.
    """
    since = clock.day_in(assignment.company.time_zone, assignment.made_at)
    return {
        one.account_id: one.held_from
        for one in among
        if one.module == assignment.module and (one.held_until is None or one.held_until >= since)
    }


def progress_of(assignment: Assignment, *, on: date) -> list[Progress]:
    """Give the progress of everybody that the assignment falls on; five queries at most."""
    people = queries.falls_on(assignment, on=on)
    company, module = assignment.company, assignment.module
    minutes = queries.minutes_read(company=company, accounts=people, module=module)
    tries: dict[int, list[bool]] = defaultdict(list)
    answered = PracticeCase.objects.filter(company=company, account__in=people, module=module).answered()
    for account, right in answered.values_list("account_id", "right"):
        tries[account].append(bool(right))
    days = completed_days(assignment, completions(company, [module], people))
    return [
        Progress(
            account,
            minutes.get((account.pk, module), 0),
            len(tries[account.pk]),
            sum(tries[account.pk]),
            days.get(account.pk),
        )
        for account in people
    ]
