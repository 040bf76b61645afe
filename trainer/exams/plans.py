"""Changes of exam plans: the default one that comes with a module, and a company's own from a day on."""

import json
from datetime import date
from typing import Any

from django.db import transaction
from django.utils.translation import gettext as _

from trainer.base import clock, journal
from trainer.base.canonical import canonical_text
from trainer.base.dated import account_ref
from trainer.base.errors import Refused
from trainer.exams import cases, queries
from trainer.exams.models import ExamPlan, plan_numbers
from trainer.exams.selection import Candidate, PlanError, check_plan
from trainer.library import queries as library
from trainer.library.models import ModuleVersion
from trainer.people.models import Account, Company
from trainer.questions.modules import Module
from trainer.rules.specification import ContentError, Problem

# The zone where a day begins last: what is loaded now holds today in every company, also where it is still yesterday.
LAST_TO_TURN = "Etc/GMT+12"


def publish_default(*, version: ModuleVersion, module: Module) -> ExamPlan | None:
    """Publish the plan in module.toml for all companies; nothing when the default already says the same.

    Raises:
        ContentError: No sitting could be drawn from the plan; names module.toml, what is wrong and how to mend it.
    """
    check = module.check
    among = cases.candidates(version)
    critical = sorted({*check.critical, *(one.question for one in among if one.critical)})
    try:
        check_plan(questions=check.questions, topics=check.topics, critical=critical, among=among)
    except PlanError as error:
        raise ContentError([Problem(f"{version.slug}/module.toml", 1, "content.E501", str(error))]) from error
    plan = ExamPlan(
        module=version.slug,
        effective_from=clock.day_in(LAST_TO_TURN),
        questions=check.questions,
        topics=canonical_text(dict(check.topics)),
        critical=canonical_text(critical),
        passing_score=check.passing_score,
        reason_en=check.reason["en"],
        reason_es=check.reason["es"],
        minutes=check.minutes,
        wait_hours=check.wait_hours,
        valid_months=check.valid_months,
    )
    before = queries.default_plan(version.slug)
    if before is not None and _says(before) == _says(plan):
        return None
    plan.save()
    journal.write("exam-plan-published", plan, by=None, module=version.slug, passing_score=plan.passing_score)
    return plan


def _says(plan: ExamPlan) -> dict[str, Any]:
    return {**plan_numbers(plan), "reason_en": plan.reason_en, "reason_es": plan.reason_es}


def publish_plan(
    *,
    company: Company,
    module: str,
    passing_score: int,
    reason_en: str,
    reason_es: str,
    minutes: int,
    wait_hours: int,
    valid_months: int,
    effective_from: date,
    by: Account | None,
) -> ExamPlan:
    """Publish a company's own plan from a day on: its numbers on the topics and critical questions in force that day.

    Raises:
        Refused: There is no plan to start from, the score is not a whole number of the questions, a reason is missing,
            or the day is over.
    """
    with transaction.atomic():
        before = _plan_to_change(company, module, effective_from)
        if not 1 <= passing_score <= before.questions:
            raise Refused(
                _("The passing score is a whole number from 1 to %(questions)s.") % {"questions": before.questions},
                field="passing_score",
            )
        for field, reason in (("reason_en", reason_en), ("reason_es", reason_es)):
            if not reason.strip():
                raise Refused(_("Say why this score is enough, in both languages."), field=field)
        plan = _own(before, company, effective_from, by)
        plan.passing_score, plan.reason_en, plan.reason_es = passing_score, reason_en.strip(), reason_es.strip()
        plan.minutes, plan.wait_hours, plan.valid_months = minutes, wait_hours, valid_months
        plan.save()
        _tell(plan, "exam-plan-published", by)
    return plan


def follow_default(*, company: Company, module: str, effective_from: date, by: Account | None) -> ExamPlan:
    """Let the company follow the default plan again from a day on.

    Raises:
        Refused: The company has no plan of its own that day, or the day is over.
    """
    with transaction.atomic():
        before = _plan_to_change(company, module, effective_from)
        if before.company is None:
            raise Refused(_("Your company follows the default plan already."))
        plan = _own(before, company, effective_from, by)
        plan.withdrawn = True
        plan.save()
        _tell(plan, "exam-plan-withdrawn", by)
    return plan


def _plan_to_change(company: Company, module: str, effective_from: date) -> ExamPlan:
    if effective_from < company.today():
        raise Refused(
            _("A plan cannot begin on a day that is over: sittings of that day were passed or not by the old one."),
            field="effective_from",
        )
    before = queries.plan_in_force(company, module, on=effective_from)
    if before is None:
        raise Refused(_("There is no exam for this module yet. Ask your trainer."))
    return before


def _own(before: ExamPlan, company: Company, effective_from: date, by: Account | None) -> ExamPlan:
    """Copy a plan into an unsaved row of the company's own."""
    return ExamPlan(
        company=company,
        scope=str(company.ref),
        module=before.module,
        effective_from=effective_from,
        recorded_by=account_ref(by),
        reason_en=before.reason_en,
        reason_es=before.reason_es,
        **plan_numbers(before),
    )


def _tell(plan: ExamPlan, verb: str, by: Account | None) -> None:
    journal.write(
        verb,
        plan,
        by=by,
        company=plan.company,
        module=plan.module,
        passing_score=plan.passing_score,
        effective_from=plan.effective_from.isoformat(),
    )


def problem_with(plan: ExamPlan, among: list[Candidate]) -> str:
    """Say why no sitting can be drawn from the plan today; empty when one can."""
    try:
        check_plan(
            questions=plan.questions,
            topics=json.loads(plan.topics),
            critical=json.loads(plan.critical),
            among=among,
        )
    except PlanError as error:
        return str(error)
    return ""


def in_use(module: str) -> list[Candidate]:
    """List the questions that an exam of the module may hold now."""
    version = library.current_module(module)
    return [] if version is None else cases.candidates(version)
