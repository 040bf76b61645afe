"""Reads of training: what is assigned to whom, what was read, and how practice goes."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db.models import QuerySet
from django.http import Http404
from django.utils.safestring import SafeString
from django.utils.translation import gettext

from trainer.base.dated import in_force
from trainer.library import queries as library
from trainer.library.models import ModuleVersion
from trainer.library.photographs.queries import photos_for
from trainer.library.rendering import kept_figures
from trainer.people.access import Member
from trainer.people.models import Account, Company, Crew, CrewPlace, Membership
from trainer.questions.cases import Case, make_case
from trainer.questions.model import Question
from trainer.questions.modules import Module
from trainer.questions.verdict import Verdict
from trainer.training.models import Assignment, PracticeCase, Reading

Try = tuple[bool, datetime | None]  # whether it was right, and when
STEADY = 2  # right answers in a row, with new numbers each time, after which a question's mistakes have stopped


@dataclass(frozen=True)
class Due:
    """One assignment as it falls on one person."""

    assignment: Assignment
    account: Account


@dataclass(frozen=True)
class Standing:
    """How one question goes for one person: tries, how many right since the last wrong, and when last."""

    question: Question
    tries: int
    rights_in_a_row: int
    last_right: bool | None
    last_at: datetime | None

    @property
    def is_steady(self) -> bool:
        """Whether the mistakes have stopped."""
        return self.rights_in_a_row >= STEADY


def assignments(member: Member) -> QuerySet[Assignment]:
    """Give the assignments that the member may see, with whom they name and how they ended."""
    return Assignment.objects.visible_to(member).select_related("account", "crew", "made_by", "end", "company")


def own_readings(member: Member) -> QuerySet[Reading]:
    """Give what the member has opened to read."""
    return Reading.objects.visible_to(member).filter(account=member.account)


def practice_cases(member: Member) -> QuerySet[PracticeCase]:
    """Give the drawn cases that the member may see."""
    return PracticeCase.objects.visible_to(member)


def people_on_crews(crews: Iterable[Crew], *, on: date) -> dict[int, list[Account]]:
    """Give the people of each crew on a day, lead first, then by name; one query."""
    places = in_force(CrewPlace.objects.filter(crew__in=list(crews)), key=CrewPlace.KEY, on=on)
    found: dict[int, list[Account]] = defaultdict(list)
    for place in places.exclude(part=CrewPlace.Part.LEFT).select_related("account").order_by("part", "account__name"):
        found[place.crew_id].append(place.account)
    return found


def assignments_due(company: Company, *, on: date) -> list[Due]:
    """List every open assignment of the company for every person that it falls on.

    A crew's assignment falls on who was on the crew when it was due, or is on it now if that is still to come, and has
    not left since: whoever joins later is not late with what was asked before.
    """
    rows = list(
        Assignment.objects.filter(company=company)
        .open()
        .select_related("account", "crew", "made_by", "company")
        .order_by("due", "pk")
    )
    on_crew = _people_at_due(rows, on=on)
    here = _belonging(company, on=on)
    due: list[Due] = []
    for row in rows:
        people = [row.account] if row.account is not None else on_crew[row.pk]
        due += [Due(row, account) for account in people if account.pk in here]
    return due


def _belonging(company: Company, *, on: date) -> set[int]:
    """Give the ids of the accounts that belong to the company on a day; one query."""
    rows = in_force(Membership.objects.filter(company=company), key=Membership.KEY, on=on)
    return set(rows.exclude(roles="").values_list("account_id", flat=True))


def falls_on(assignment: Assignment, *, on: date) -> list[Account]:
    """Give the people that one assignment falls on."""
    people = (
        [assignment.account] if assignment.account is not None else _people_at_due([assignment], on=on)[assignment.pk]
    )
    here = _belonging(assignment.company, on=on)
    return [account for account in people if account.pk in here]


def _people_at_due(rows: Iterable[Assignment], *, on: date) -> dict[int, list[Account]]:
    """Give who each crew's assignment falls on, by its id; one query for the crews today and one for each past day."""
    by_day: dict[date, set[Crew]] = defaultdict(set)
    of_crews = [(row, row.crew) for row in rows if row.crew is not None]
    for row, crew in of_crews:
        by_day[min(row.due, on)].add(crew)
    then = {day: people_on_crews(crews, on=day) for day, crews in by_day.items()}
    now = people_on_crews({crew for _row, crew in of_crews}, on=on)
    fell: dict[int, list[Account]] = {}
    for row, crew in of_crews:
        still = {account.pk for account in now.get(crew.pk, [])}
        fell[row.pk] = [account for account in then[min(row.due, on)].get(crew.pk, []) if account.pk in still]
    return fell


def due_for(member: Member) -> list[Assignment]:
    """List what is assigned to the member, alone or with the crew, first due first; each module once."""
    crews = crews_of(company=member.company, account=member.account, on=member.today)
    rows = (
        Assignment.objects.filter(company=member.company).open().select_related("made_by", "crew", "account", "company")
    )
    mine = rows.filter(account=member.account) | rows.filter(crew__in=crews)
    asked = list(mine.order_by("due", "pk"))
    fell = _people_at_due(asked, on=member.today)
    first: dict[str, Assignment] = {}
    for row in asked:
        if row.crew is None or member.account in fell[row.pk]:
            first.setdefault(row.module, row)
    return list(first.values())


def crews_of(*, company: Company, account: Account, on: date) -> list[int]:
    """Give the ids of the crews that the person is on, on a day."""
    places = in_force(CrewPlace.objects.filter(account=account, crew__company=company), key=CrewPlace.KEY, on=on)
    return list(places.exclude(part=CrewPlace.Part.LEFT).values_list("crew_id", flat=True))


def assigned_by(*, company: Company, account: Account, module: str, on: date) -> Account | None:
    """Give who last assigned the module to the person, alone or with a crew; None when nobody did."""
    rows = Assignment.objects.filter(company=company, module=module)
    crews = crews_of(company=company, account=account, on=on)
    mine = rows.filter(account=account) | rows.filter(crew__in=crews)
    row = mine.select_related("made_by").order_by("-made_at").first()
    return row.made_by if row is not None else None


def minutes_read(
    *, company: Company, accounts: Iterable[Account], module: str | None = None
) -> dict[tuple[int, str], int]:
    """Give the minutes kept for each (account id, module) that was read to the end; one query."""
    rows = Reading.objects.filter(company=company, account__in=list(accounts), end__isnull=False)
    if module is not None:
        rows = rows.filter(module_version__slug=module)
    minutes: dict[tuple[int, str], int] = defaultdict(int)
    for account, slug, spent in rows.values_list("account_id", "module_version__slug", "end__minutes"):
        minutes[account, slug] += spent
    return minutes


def practice_questions(version: ModuleVersion) -> list[Question]:
    """List the version's questions that may be practiced."""
    return [question for question in library.questions_of(version) if question.use in ("practice", "both")]


def standings(*, company: Company, account: Account, questions: Iterable[Question]) -> list[Standing]:
    """Give how each question goes for the person, in the order given; one query."""
    wanted = list(questions)
    answered = (
        PracticeCase.objects.filter(company=company, account=account, question__in=[question.id for question in wanted])
        .answered()
        .order_by("answered_at", "pk")
        .values_list("question", "right", "answered_at")
    )
    tries: dict[str, list[Try]] = defaultdict(list)
    for question_id, right, at in answered:
        tries[question_id].append((bool(right), at))
    return [_standing(question, tries[question.id]) for question in wanted]


def _standing(question: Question, tries: list[Try]) -> Standing:
    in_a_row = 0
    for right, _at in reversed(tries):
        if not right:
            break
        in_a_row += 1
    last = tries[-1] if tries else (None, None)
    return Standing(question, len(tries), in_a_row, last[0], last[1])


def next_question(ahead: list[Standing], *, last: str | None) -> Question:
    """Choose what to practice next: first what went wrong last time, then the unseen, then what is not yet steady.

    The question just answered comes again only when no other is left; when all are steady, the one longest ago.
    """
    open_ones = [standing for standing in ahead if not standing.is_steady] or ahead
    others = [standing for standing in open_ones if standing.question.id != last] or open_ones

    def order(standing: Standing) -> tuple[int, float]:
        when = standing.last_at.timestamp() if standing.last_at is not None else 0.0
        return ({False: 0, None: 1, True: 2}[standing.last_right], when)

    return min(others, key=order).question


def question_of(row: PracticeCase) -> Question:
    """Give the question that a case was drawn from, as its version of the module has it."""
    return library.question(row.question, row.module_version)


def case_of(row: PracticeCase) -> Case:
    """Make a drawn case again, the same to the letter."""
    return make_case(question_of(row), library.specification_of(row.revision), row.seed)


def photos_shown(row: PracticeCase, language: str) -> list[SafeString]:
    """Give the company's own pictures that a drawn case shows."""
    question = library.question(row.question, row.module_version)
    return kept_figures(photos_for(row.company, question), language)


@dataclass(frozen=True)
class LessonFor:
    """A module as a member reads it today; `adopted` is None while the company has adopted no revision for it."""

    version: ModuleVersion
    module: Module
    adopted: library.Adopted | None


def lesson_for(member: Member, slug: str) -> LessonFor:
    """Give the current version of a lesson and the revision that fills it.

    Raises:
        Http404: There is no such module.
    """
    version = library.current_module(slug)
    if version is None:
        raise Http404(f"no module {slug}")
    module = library.module_of(version)
    return LessonFor(version, module, library.adopted_for(member.company, module, on=member.today))


def module_titles(member: Member) -> dict[str, str]:
    """Give every module's title in the member's language, by slug."""
    modules = library.modules_of(library.module_versions())
    return {slug: module.title[member.language] for slug, module in modules.items()}


def lesson_list(member: Member) -> list[dict[str, Any]]:
    """List every lesson with its summary, its length and the minutes that the member has read."""
    minutes = minutes_read(company=member.company, accounts=[member.account])
    modules = library.modules_of(library.module_versions())
    return [
        {
            "slug": slug,
            "title": module.title[member.language],
            "summary": module.summary[member.language],
            "minutes": module.minutes,
            "read": minutes.get((member.account.pk, slug)),
        }
        for slug, module in modules.items()
    ]


def module_standing(member: Member, slug: str) -> dict[str, int]:
    """Count a module's practice questions: all, steady, and those that went wrong last time."""
    version = library.current_module(slug)
    questions = practice_questions(version) if version is not None else []
    return _counts(standings(company=member.company, account=member.account, questions=questions))


def _counts(found: list[Standing]) -> dict[str, int]:
    return {
        "all": len(found),
        "steady": sum(standing.is_steady for standing in found),
        "wrong": sum(standing.last_right is False for standing in found),
        "tried": sum(standing.tries > 0 for standing in found),
    }


def practice_list(member: Member) -> list[dict[str, Any]]:
    """List every module with how its practice goes; one query for all the practice."""
    versions = library.module_versions()
    modules = library.modules_of(versions)
    questions = {version.slug: practice_questions(version) for version in versions}
    every = [question for found in questions.values() for question in found]
    by_id = {row.question.id: row for row in standings(company=member.company, account=member.account, questions=every)}
    return [
        {
            "slug": slug,
            "title": module.title[member.language],
            **_counts([by_id[question.id] for question in questions[slug]]),
        }
        for slug, module in modules.items()
    ]


def problem_with(verdict: Verdict | None) -> str:
    """Give the sentence for an answer that was not judged: it cannot be read, or there is none; else empty."""
    if verdict is None or not (verdict.problem or verdict.blank):
        return ""
    return verdict.problem or gettext("Enter an answer first.")


def assign_choices(member: Member) -> dict[str, Any]:
    """Give what a module may be assigned to: modules, crews, and people with a role in the company today."""
    here = in_force(Membership.objects.filter(company=member.company), key=Membership.KEY, on=member.today)
    return {
        "modules": list(module_titles(member).items()),
        "crews": Crew.objects.filter(company=member.company).order_by("name"),
        "people": Account.objects.filter(pk__in=here.filter(roles__contains="trainee").values("account")).order_by(
            "name"
        ),
    }
