"""Sittings: start one, save an answer, end it and score it, once each, whatever is killed or sent twice.

Saving and ending take the same lock on the sitting's row, so an answer is either in the score or was refused; SQLite
locks the whole file when the transaction begins.
"""

import json
import logging
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import IntegrityError, transaction
from django.utils import formats, timezone
from django.utils.translation import gettext as _

from trainer.base import clock, ids, journal
from trainer.base.canonical import canonical_text
from trainer.base.errors import Refused
from trainer.base.models import Evidence
from trainer.exams import cases, queries
from trainer.exams.models import ExamPlan, Sheet, SheetAnswer, Sitting, SittingEnd, SittingScore
from trainer.exams.scoring import score_document
from trainer.exams.selection import PlanError, choose
from trainer.exams.signals import sitting_scored
from trainer.library import queries as library
from trainer.library.models import ModuleVersion, SpecificationRevision
from trainer.people.models import Account, Company

LONGEST_RESPONSE = 4000  # characters of canonical text: an order of twenty steps is a tenth of that
log = logging.getLogger(__name__)


# ------------------------------------------------------------------------------------------------------------ start
@dataclass(frozen=True)
class Drawn:
    """A sitting made up but not yet kept: what it is drawn from, and each sheet's question and whole case."""

    plan: ExamPlan
    version: ModuleVersion
    revision: SpecificationRevision
    secret: str
    sheets: list[tuple[str, str, dict[str, Any]]]  # question, topic, case document


def start_sitting(*, company: Company, account: Account, module: str, language: str) -> Sitting:
    """Open a sitting with the person's own questions and numbers; give the open one where there is one.

    Raises:
        Refused: The module has no plan or no specification in force, or the wait after the last sitting is not over.
    """
    latest = _latest_ended_by_clock(company, account, module)
    if latest is not None and latest.ended is None:
        return latest
    drawn = _draw(company, module)
    try:
        with transaction.atomic():
            return _keep(drawn, company=company, account=account, language=language)
    except IntegrityError:
        # The same person started it from two phones at once: the number is taken, so the other one is open.
        other = queries.latest_sitting(company, account, module)
        if other is None or other.ended is not None:
            raise
        return other


def _latest_ended_by_clock(company: Company, account: Account, module: str) -> Sitting | None:
    latest = queries.latest_sitting(company, account, module)
    if latest is not None and end_if_overdue(latest):
        latest = queries.latest_sitting(company, account, module)
    return latest


def _draw(company: Company, module: str) -> Drawn:
    """Make the cases before the transaction, so that nobody waits for a lock while drawings are made."""
    today = company.today()
    version = library.current_module(module)
    plan = queries.plan_in_force(company, module, on=today)
    if version is None or plan is None:
        raise Refused(_("There is no exam for this module yet. Ask your trainer."))
    adopted = library.adopted_for(company, library.module_of(version), on=today)
    if adopted is None:
        raise Refused(_("Your company has not adopted the specification of this module yet. Ask your trainer."))
    secret = ids.random_bytes(32).hex()
    try:
        chosen = choose(
            topics=json.loads(plan.topics),
            critical=json.loads(plan.critical),
            among=cases.candidates(version),
            secret=secret,
        )
    except PlanError as error:
        raise Refused(_("This exam cannot be drawn: %(why)s Tell your trainer.") % {"why": error}) from error
    sheets = [
        (one.question, one.topic, cases.made_document(one.question, version, adopted.specification, secret, company))
        for one in chosen
    ]
    return Drawn(plan, version, adopted.revision, secret, sheets)


def _keep(drawn: Drawn, *, company: Company, account: Account, language: str) -> Sitting:
    latest = queries.latest_sitting(company, account, drawn.plan.module)
    if latest is not None and latest.ended is None:
        return latest
    again_at = queries.may_start_at(latest, drawn.plan)
    if again_at is not None:
        raise Refused(_("You may sit this exam again from %(when)s") % {"when": instant_text(again_at, company)})
    now = clock.now()
    sitting = Sitting.objects.create(
        company=company,
        account=account,
        module=drawn.plan.module,
        number=1 if latest is None else latest.number + 1,
        plan=drawn.plan,
        module_version=drawn.version,
        specification_revision=drawn.revision,
        language=language,
        started_at=now,
        ends_at=now + timedelta(minutes=drawn.plan.minutes),
        seed=drawn.secret,
    )
    critical = set(json.loads(drawn.plan.critical))
    Sheet.objects.bulk_create(
        Sheet(
            sitting=sitting,
            number=number,
            question=question,
            topic=topic,
            critical=question in critical,
            evidence=Evidence.store(document),
        )
        for number, (question, topic, document) in enumerate(drawn.sheets, start=1)
    )
    journal.write("sitting-started", sitting, by=account, company=company, module=sitting.module, number=sitting.number)
    return sitting


# ---------------------------------------------------------------------------------------------------------- answers
def save_answer(
    *, sitting: Sitting, number: int, send: UUID, response: cases.Response, language: str
) -> SheetAnswer | None:
    """Keep an answer to a sheet before the page says so; the same send with the same answer is the same row.

    An unchanged answer adds nothing. None: the sheet was blank and stays blank.

    Raises:
        Refused: The sitting has ended or its time is up, there is no such sheet, or the answer is too long.
    """
    text = canonical_text(dict(response))
    if len(text) > LONGEST_RESPONSE:
        raise Refused(_("This answer is too long. Write only the answer."))
    with transaction.atomic():
        _lock(sitting)
        sheet = Sheet.objects.filter(sitting=sitting, number=number).first()
        if sheet is None:
            raise Refused(_("This exam has no question %(number)s.") % {"number": number})
        sent = SheetAnswer.objects.filter(sheet=sheet, send=send).order_by("-turn").first()
        if sent is not None and sent.response == text:
            return sent
        if not sitting.is_overdue and not SittingEnd.objects.filter(sitting=sitting).exists():
            return _add_answer(
                sheet, send=send, turn=1 if sent is None else sent.turn + 1, text=text, language=language
            )
    end_if_overdue(sitting)
    raise Refused(_("The exam had ended before this answer arrived, so the answer does not count."))


def _add_answer(sheet: Sheet, *, send: UUID, turn: int, text: str, language: str) -> SheetAnswer | None:
    standing = SheetAnswer.objects.filter(sheet=sheet).order_by("-pk").first()
    if (standing.response if standing is not None else "{}") == text:
        return standing
    return SheetAnswer.objects.create(sheet=sheet, send=send, turn=turn, response=text, language=language)


# ------------------------------------------------------------------------------------------------------------ ending
def end_sitting(*, sitting: Sitting, by: Account | None = None) -> SittingScore:
    """End the sitting and score it from its stored cases and answers; a second call gives the first score.

    After its time is up it is the clock that ended it, at that time. Receivers of `sitting_scored` act in the same
    transaction.
    """
    with transaction.atomic():
        _lock(sitting)
        score = SittingScore.objects.filter(sitting=sitting).first()
        if score is not None:
            return score
        late = sitting.is_overdue
        SittingEnd.objects.create(
            sitting=sitting,
            ended_at=sitting.ends_at if late else clock.now(),
            how=SittingEnd.How.CLOCK if late else SittingEnd.How.PERSON,
        )
        score = _score(sitting)
        sitting_scored.send(Sitting, sitting=sitting, score=score)
        journal.write(
            "sitting-ended",
            sitting,
            by=None if late else by,
            company=sitting.company,
            how="clock" if late else "person",
            right=score.right,
            of=score.of,
            passed=score.passed,
        )
    return score


def _score(sitting: Sitting) -> SittingScore:
    document = score_document(sitting, queries.answered_sheets(sitting))
    return SittingScore.objects.create(
        sitting=sitting,
        right=document["right"],
        of=document["of"],
        passed=document["passed"],
        critical_missed=len(document["critical_missed"]),
        evidence=Evidence.store(document),
    )


def end_if_overdue(sitting: Sitting) -> bool:
    """End an open sitting whose time is up; tell whether it was one."""
    if not sitting.is_overdue or SittingEnd.objects.filter(sitting=sitting).exists():
        return False
    end_sitting(sitting=sitting)
    return True


@dataclass(frozen=True)
class Ended:
    """What a round of the clock did: how many sittings it ended, and the refs of those it could not score."""

    count: int
    failed: tuple[str, ...]


def end_overdue(*, company: Company | None = None, account: Account | None = None) -> Ended:
    """End every open sitting whose time is up, of one company or person where given; safe to run twice.

    One that cannot be scored stops none of the others: it stays open, is logged and named.
    """
    rows = queries.overdue(clock.now()).select_related("company", "plan")
    if company is not None:
        rows = rows.filter(company=company)
    if account is not None:
        rows = rows.filter(account=account)
    count, failed = 0, []
    for sitting in list(rows.order_by("ends_at")):
        try:
            count += end_if_overdue(sitting)
        except Exception:  # whatever is wrong with one sitting, the others end
            log.exception("sitting %s could not be ended", sitting.ref)
            failed.append(str(sitting.ref))
    return Ended(count, tuple(failed))


def _lock(sitting: Sitting) -> None:
    Sitting.objects.select_for_update().get(pk=sitting.pk)


def instant_text(at: datetime, company: Company) -> str:
    """Write an instant as the company's day and time, months in words."""
    return formats.date_format(timezone.localtime(at, ZoneInfo(company.time_zone)), "DATETIME_FORMAT")
