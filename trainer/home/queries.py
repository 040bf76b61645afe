"""Reads for the first pages: what is due today, for one person or for the people of a trainer."""

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.urls import reverse

from trainer.exams import queries as exams
from trainer.people.access import Member, memberships_today
from trainer.people.models import Account, Company, Crew, Role
from trainer.records.models import CompletionRecord, RecordKind
from trainer.training import progress
from trainer.training import queries as training
from trainer.training.models import Assignment

SOON = timedelta(days=14)  # a trainer's page shows what falls due within two weeks


def module_completions(
    company: Company, modules: Collection[str], people: Collection[Account]
) -> list[progress.Completion]:
    """Give the module records of the people that nobody revoked, oldest first; one query."""
    rows = CompletionRecord.objects.filter(
        company=company, kind=RecordKind.MODULE, subject__in=modules, account__in=people, revocation__isnull=True
    )
    found = rows.order_by("effective_on", "pk").values_list("account_id", "subject", "effective_on", "valid_until")
    return [progress.Completion(*row) for row in found]


@dataclass(frozen=True)
class Task:
    """One assigned module on a trainee's first page, with what is done and what comes next."""

    assignment: Assignment
    title: str
    minutes_read: int
    practice: dict[str, int]
    completed_on: date | None
    exam_open: bool
    exam_again_at: datetime | None
    overdue: bool


def tasks_for(member: Member) -> list[Task]:
    """List what is assigned to the member and what of it is done; open ones first, first due first."""
    minutes = training.minutes_read(company=member.company, accounts=[member.account])
    practice = {row["slug"]: row for row in training.practice_list(member)}
    lines = {line.plan.module: line for line in exams.exam_lines(member)}
    due = [row for row in training.due_for(member) if row.module in practice]
    completions = progress.completions(member.company, {row.module for row in due}, [member.account])
    tasks = []
    for row in due:
        line = lines.get(row.module)
        done = progress.completed_days(row, completions).get(member.account.pk)
        tasks.append(
            Task(
                row,
                practice[row.module]["title"],
                minutes.get((member.account.pk, row.module), 0),
                practice[row.module],
                done,
                exam_open=line is not None and line.is_open,
                exam_again_at=None if line is None else line.again_at,
                overdue=done is None and row.due < member.today,
            )
        )
    return sorted(tasks, key=lambda task: (task.completed_on is not None, task.assignment.due))


@dataclass(frozen=True)
class AssignmentLine:
    """One assignment on a trainer's first page: how many of its people have completed the module."""

    assignment: Assignment
    title: str
    done: int
    people: int
    overdue: bool


def assignment_lines(member: Member) -> list[AssignmentLine]:
    """List the company's assignments that are due soon, or overdue with people missing; earliest first."""
    titles = training.module_titles(member)
    by_assignment: dict[Assignment, list[Account]] = defaultdict(list)
    for due in training.assignments_due(member.company, on=member.today):
        if due.assignment.due <= member.today + SOON:
            by_assignment[due.assignment].append(due.account)
    everybody = {account for people in by_assignment.values() for account in people}
    completions = progress.completions(member.company, {row.module for row in by_assignment}, everybody)
    lines = []
    for row, people in by_assignment.items():
        days = progress.completed_days(row, completions)
        completed = sum(account.pk in days for account in people)
        overdue = row.due < member.today
        if not (overdue and completed == len(people)):
            title = titles.get(row.module, row.module)
            lines.append(AssignmentLine(row, title, completed, len(people), overdue))
    return lines


def crews_with_people(member: Member) -> list[tuple[Crew, list[Account]]]:
    """List the company's crews with who is on them today."""
    crews = list(Crew.objects.filter(company=member.company).order_by("name"))
    people = training.people_on_crews(crews, on=member.today)
    return [(crew, people.get(crew.pk, [])) for crew in crews]


def first_page(member: Member) -> str:
    """Give the address of the member's first page: the office's before the trainer's, the foreman's, the trainee's."""
    slug = {"company": member.company.slug}
    if member.has(Role.OFFICE):
        return reverse("matrix", kwargs=slug)
    if member.has(Role.TRAINER, Role.EVALUATOR):
        return reverse("trainer-day", kwargs=slug)
    if member.has(Role.FOREMAN):
        return reverse("my-crew", kwargs=slug)
    if member.has(Role.TRAINEE):
        return reverse("today")
    return reverse("people", kwargs=slug)


def places_of(account: Account) -> list[dict[str, Any]]:
    """List the companies that the person has a place in, with the address of the first page in each."""
    members = [Member(row.account, row.company, row.role_set) for row in memberships_today(account)]
    return [{"company": each.company, "roles": each.roles, "url": first_page(each)} for each in members]
