"""Reads of plans and sittings, in a bounded number of queries."""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import cast
from uuid import UUID

from django.db.models import QuerySet

from trainer.base import clock
from trainer.base.dated import in_force
from trainer.exams.models import ExamPlan, Sheet, SheetAnswer, Sitting, SittingQuerySet
from trainer.library import queries as library
from trainer.people.access import Member
from trainer.people.models import Account, Company
from trainer.questions.modules import Module


# ------------------------------------------------------------------------------------------------------------ plans
def plans_in_force(company: Company, *, on: date, known_at: datetime | None = None) -> dict[str, ExamPlan]:
    """Give the plan of each module that holds for the company on a day: its own, or else the default."""
    scopes = ["", str(company.ref)]
    rows = in_force(ExamPlan.objects.filter(scope__in=scopes), key=ExamPlan.KEY, on=on, known_at=known_at)
    plans: dict[str, ExamPlan] = {}
    for plan in sorted(rows, key=lambda plan: plan.scope):  # the default comes first, the company's own replaces it
        if not plan.withdrawn:
            plans[plan.module] = plan
    return plans


def plan_in_force(company: Company, module: str, *, on: date, known_at: datetime | None = None) -> ExamPlan | None:
    """Give the plan of one module that holds for the company on a day; None where there is none yet."""
    return plans_in_force(company, on=on, known_at=known_at).get(module)


def default_plan(module: str) -> ExamPlan | None:
    """Give the default plan published last for the module, whatever its day."""
    return cast("ExamPlan | None", ExamPlan.objects.filter(scope="", module=module).order_by("-pk").first())


def plans_of(member: Member, module: str) -> list[ExamPlan]:
    """List every plan of the module that the member may see, the latest day first."""
    rows = ExamPlan.objects.all().visible_to(member).filter(module=module)
    return list(rows.order_by("-effective_from", "-recorded_at"))


# --------------------------------------------------------------------------------------------------------- sittings
def sittings() -> SittingQuerySet:
    """Give sittings with what their pages need, in one query."""
    rows = Sitting.objects.select_related("plan", "module_version", "specification_revision", "end", "score")
    return rows.select_related("company", "account")


def own_sitting(member: Member, ref: UUID) -> Sitting | None:
    """Give one of the member's own sittings; nobody opens the sheets of somebody else."""
    return cast("Sitting | None", sittings().filter(company=member.company, account=member.account, ref=ref).first())


def visible_sitting(member: Member, ref: UUID) -> Sitting | None:
    """Give a sitting that the member may see as staff."""
    return cast("Sitting | None", sittings().visible_to(member).filter(ref=ref).first())


def visible_sittings(member: Member, *, search: str = "", module: str = "") -> "QuerySet[Sitting]":
    """Give the sittings that the member may see as staff, the latest first, by name and module."""
    rows = sittings().visible_to(member)
    if search:
        rows = rows.filter(account__name__icontains=search)
    if module:
        rows = rows.filter(module=module)
    return rows.order_by("-started_at", "-pk")


def latest_sitting(company: Company, account: Account, module: str) -> Sitting | None:
    """Give the person's latest sitting of the module in the company."""
    rows = sittings().filter(company=company, account=account, module=module)
    return cast("Sitting | None", rows.order_by("-number").first())


def overdue(now: datetime) -> SittingQuerySet:
    """Give the open sittings whose time has run out."""
    return Sitting.objects.all().open().filter(ends_at__lte=now)


def may_start_at(latest: Sitting | None, plan: ExamPlan) -> datetime | None:
    """Give the instant from which the person may sit again under the plan; None: now."""
    ended = None if latest is None else latest.ended
    if ended is None:
        return None
    again = ended.ended_at + timedelta(hours=plan.wait_hours)
    return again if again > clock.now() else None


@dataclass(frozen=True)
class ExamLine:
    """One module check on a person's list: what it takes, the latest sitting, and when another may start."""

    plan: ExamPlan
    module: Module
    latest: Sitting | None
    again_at: datetime | None

    @property
    def is_open(self) -> bool:
        """Whether a sitting was started and not ended."""
        return self.latest is not None and self.latest.ended is None


def exam_lines(member: Member) -> list[ExamLine]:
    """List the module checks that the member may sit, by module; a module without plan is left out."""
    versions = {version.slug: version for version in library.module_versions()}
    plans = plans_in_force(member.company, on=member.today)
    modules = library.modules_of([version for slug, version in versions.items() if slug in plans])
    mine = sittings().filter(company=member.company, account=member.account).order_by("number")
    latest = {sitting.module: sitting for sitting in mine}
    return [
        ExamLine(plans[slug], module, latest.get(slug), may_start_at(latest.get(slug), plans[slug]))
        for slug, module in sorted(modules.items())
    ]


# ----------------------------------------------------------------------------------------------------------- sheets
@dataclass(frozen=True)
class Answered:
    """A sheet with the answer that stands: `response` is empty while it is blank."""

    sheet: Sheet
    answer: SheetAnswer | None

    @property
    def response(self) -> dict[str, str | list[str]]:
        """What was entered last."""
        return {} if self.answer is None else cast("dict[str, str | list[str]]", json.loads(self.answer.response))

    @property
    def is_blank(self) -> bool:
        """Whether nothing stands here."""
        return not self.response


def answered_sheets(sitting: Sitting) -> list[Answered]:
    """Give every sheet of a sitting, in order, with its case and the answer saved last; two queries."""
    sheets = list(sitting.sheets.select_related("evidence"))
    last: dict[int, SheetAnswer] = {}
    for answer in SheetAnswer.objects.filter(sheet__in=sheets).order_by("pk"):
        last[answer.sheet_id] = answer
    return [Answered(sheet, last.get(sheet.pk)) for sheet in sheets]


def blank_numbers(answered: Iterable[Answered]) -> list[int]:
    """List the numbers of the sheets that are blank."""
    return [one.sheet.number for one in answered if one.is_blank]


def first_blank(sitting: Sitting) -> int:
    """Give the number of the first blank sheet; the last sheet where none is blank."""
    answered = answered_sheets(sitting)
    return next(iter(blank_numbers(answered)), len(answered))


def saved_at(sitting: Sitting, number: int) -> datetime | None:
    """Give the instant at which the answer that stands on a sheet was saved."""
    rows = SheetAnswer.objects.filter(sheet__sitting=sitting, sheet__number=number).order_by("-pk")
    return rows.values_list("saved_at", flat=True).first()
