"""How far each person is with an assignment: minutes read, practice, and whether the module is completed.

Completion is known above this app; whoever keeps records says how to look it up.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from trainer.people.models import Account, Company
from trainer.training import queries
from trainer.training.models import Assignment, PracticeCase

Completed = Callable[[Company, str, Iterable[Account]], dict[int, date]]
_lookups: list[Completed] = []


@dataclass(frozen=True)
class Progress:
    """One person's progress; `completed_on` is the day of the newest completion made since the assignment or before."""

    account: Account
    minutes: int
    tries: int
    right: int
    completed_on: date | None


def look_up_completion_with(lookup: Completed) -> None:
    """Say how to find who has completed a module: company, module, people -> day by account id."""
    _lookups[:] = [lookup]


def completed_days(company: Company, module: str, people: Iterable[Account]) -> dict[int, date]:
    """Give the day on which each person completed the module, by account id; people without one are left out."""
    return _lookups[0](company, module, list(people)) if _lookups else {}


def progress_of(assignment: Assignment, *, on: date) -> list[Progress]:
    """Give the progress of everybody that the assignment falls on; five queries at most."""
    people = queries.falls_on(assignment, on=on)
    company, module = assignment.company, assignment.module
    minutes = queries.minutes_read(company=company, accounts=people, module=module)
    tries: dict[int, list[bool]] = defaultdict(list)
    answered = PracticeCase.objects.filter(company=company, account__in=people, module=module).answered()
    for account, right in answered.values_list("account_id", "right"):
        tries[account].append(bool(right))
    days = completed_days(company, module, people)
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
