"""Changes of training: assign and withdraw, open and finish reading, draw and answer practice."""

import json
import logging
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction
from django.utils.translation import gettext as _

from trainer.base import clock, ids, journal
from trainer.base.canonical import canonical_text
from trainer.base.errors import Refused
from trainer.library import queries as library
from trainer.library.models import ModuleVersion, SpecificationRevision
from trainer.people.access import Member
from trainer.people.models import Account, Company, Crew
from trainer.questions.model import Language
from trainer.questions.verdict import Verdict, judge
from trainer.training import queries
from trainer.training.models import Assignment, AssignmentEnd, PracticeCase, Reading, ReadingEnd

log = logging.getLogger(__name__)

DAYS_A_MONTH = 30.44  # 365.25 / 12
LONGEST_READING = 60  # minutes that one reading may count: a page left open is not read
SAME_READING = timedelta(hours=4)  # opening the same lesson again within this time goes on with the same reading


@transaction.atomic
def assign(
    *, company: Company, module: str, due: date, by: Account, account: Account | None = None, crew: Crew | None = None
) -> Assignment:
    """Assign a module to a person or to everybody on a crew, due by the end of a day.

    Raises:
        Refused: The day is past, the module is unknown, or the same is assigned already.
    """
    if (account is None) == (crew is None):
        raise Refused(_("Choose one person or one crew."), field="to")
    if library.current_module(module) is None:
        raise Refused(_("There is no such module any more; choose another."), field="module")
    if due < company.today():
        raise Refused(_("The day is past; choose today or a later day."), field="due")
    same = Assignment.objects.filter(company=company, module=module, account=account, crew=crew, due=due).open()
    if same.exists():
        raise Refused(_("This is assigned already, due on the same day."), field="to")
    made = Assignment.objects.create(company=company, module=module, account=account, crew=crew, due=due, made_by=by)
    journal.write("module-assigned", made, by=by, company=company, module=module, due=due.isoformat())
    return made


@transaction.atomic
def withdraw(*, assignment: Assignment, by: Account) -> AssignmentEnd:
    """Take an assignment back; what was read and passed meanwhile stays. Withdrawing twice is once."""
    end, made = AssignmentEnd.objects.get_or_create(assignment=assignment, defaults={"ended_by": by})
    if made:
        journal.write("assignment-withdrawn", assignment, by=by, company=assignment.company)
    return end


@transaction.atomic
def open_reading(*, member: Member, version: ModuleVersion, revision: SpecificationRevision) -> Reading:
    """Note that the member opened the lesson; opened again soon, it is the same reading."""
    same = Reading.objects.filter(
        company=member.company,
        account=member.account,
        module_version=version,
        revision=revision,
        language=member.language,
        opened_at__gte=clock.now() - SAME_READING,
        end__isnull=True,
    )
    found = same.order_by("-opened_at").first()
    return found or Reading.objects.create(
        company=member.company,
        account=member.account,
        module_version=version,
        revision=revision,
        language=member.language,
    )


@transaction.atomic
def finish_reading(*, reading: Reading) -> ReadingEnd:
    """Note that the lesson was read; sent again, nothing more is counted."""
    spent = int((clock.now() - reading.opened_at).total_seconds() // 60)
    minutes = max(1, min(spent, LONGEST_READING))
    end, _made = ReadingEnd.objects.get_or_create(reading=reading, defaults={"minutes": minutes})
    return end


@transaction.atomic
def draw_case(*, member: Member, module: str, question_id: str | None = None) -> PracticeCase:
    """Draw a case to practice: of one question with new numbers, or of the question that needs it most.

    A case that is still open is given again, so that going back and forth does not skip what is hard.

    Raises:
        Refused: The module has gone, has nothing to practice, or the company has adopted no specification for it.
    """
    version = library.current_module(module)
    if version is None:
        raise Refused(_("There is no such module any more; choose another."))
    adopted = library.adopted_for(member.company, library.module_of(version), on=member.today)
    if adopted is None:
        raise Refused(_("Your company has not adopted the specification for this module yet; tell your trainer."))
    questions = queries.practice_questions(version)
    if question_id is not None:
        questions = [question for question in questions if question.id == question_id]
    if not questions:
        raise Refused(_("There is nothing to practice here yet."))
    mine = PracticeCase.objects.filter(company=member.company, account=member.account, module=module)
    still_open = mine.filter(answered_at__isnull=True, module_version=version, revision=adopted.revision)
    if question_id is None:
        waiting = still_open.order_by("-pk").first()
        if waiting is not None:
            return waiting
        last = mine.answered().order_by("-answered_at", "-pk").values_list("question", flat=True).first()
        ahead = queries.standings(company=member.company, account=member.account, questions=questions)
        question_id = queries.next_question(ahead, last=last).id
    mine.filter(answered_at__isnull=True).delete()
    return PracticeCase.objects.create(
        company=member.company,
        account=member.account,
        module=module,
        question=question_id,
        module_version=version,
        revision=adopted.revision,
        language=member.language,
        seed=ids.random_bytes(8).hex(),
    )


@transaction.atomic
def answer_case(*, row: PracticeCase, response: Mapping[str, str | list[str]], language: Language) -> Verdict:
    """Judge an answer to a practice case and keep the first that can be read; a case is answered once."""
    row = PracticeCase.objects.select_for_update().get(pk=row.pk)
    verdict = judge(queries.case_of(row), response, language)
    if verdict.problem or verdict.blank or row.answered_at is not None:
        return verdict
    row.response = canonical_text(dict(response))
    row.right = verdict.right
    row.mistakes = " ".join(verdict.codes)[:200]
    row.answered_at = clock.now()
    row.seconds = int((row.answered_at - row.drawn_at).total_seconds())
    row.save(update_fields=["response", "right", "mistakes", "answered_at", "seconds"])
    return verdict


def kept_response(row: PracticeCase) -> dict[str, str | list[str]]:
    """Give what was answered, as it was read from the form; empty while the case is open."""
    return json.loads(row.response) if row.response else {}


@transaction.atomic
def prune_practice(*, company: Company) -> int:
    """Delete practice older than the months that the company keeps; give how many cases went.

    The oldest day that is kept begins at the company's midnight, so a company is pruned once a day at most.
    """
    oldest_day = company.today() - timedelta(days=round(company.practice_months * DAYS_A_MONTH))
    oldest = datetime.combine(oldest_day, time(0), ZoneInfo(company.time_zone))
    count, _by_model = PracticeCase.objects.filter(company=company, drawn_at__lt=oldest).delete()
    if count:
        journal.write("practice-pruned", company, by=None, company=company, cases=count)
    return count


@dataclass(frozen=True)
class Pruned:
    """What a round of pruning did: how many cases went, and the short names of companies where it failed."""

    count: int
    failed: tuple[str, ...]


def prune_all() -> Pruned:
    """Prune the practice of every company; one where it fails is logged and named, and stops none of the others."""
    count, failed = 0, []
    for company in Company.objects.all():
        try:
            count += prune_practice(company=company)
        except Exception:  # whatever is wrong with one company, the others are pruned
            log.exception("the practice of %s could not be pruned", company.slug)
            failed.append(company.slug)
    return Pruned(count, tuple(failed))
