"""What the staff's pages of exams show."""

import json
from dataclasses import dataclass
from typing import Any

from trainer.exams import cases, plans, queries
from trainer.exams.chances import chances
from trainer.exams.models import ExamPlan, Sitting
from trainer.exams.showing import score_sheets, topic_text
from trainer.library import queries as library
from trainer.people.access import Member
from trainer.questions.modules import Module


def titles(member: Member) -> dict[str, str]:
    """Give each module's title in the member's language."""
    modules = library.modules_of(library.module_versions())
    return {slug: module.title[cases.spoken(member.language)] for slug, module in modules.items()}


@dataclass(frozen=True)
class PlanLine:
    """A module with the plan in force for the company, and why no sitting can be drawn, where none can."""

    module: Module
    plan: ExamPlan
    problem: str


def plan_lines(member: Member) -> list[PlanLine]:
    """List the modules that have a plan today."""
    in_force = queries.plans_in_force(member.company, on=member.today)
    versions = [version for version in library.module_versions() if version.slug in in_force]
    modules = library.modules_of(versions)
    return [
        PlanLine(
            modules[version.slug],
            in_force[version.slug],
            plans.problem_with(in_force[version.slug], cases.candidates(version)),
        )
        for version in versions
    ]


@dataclass(frozen=True)
class PlanPage:
    """A plan in full: its topics and critical questions by title, what the passing score lets through, its history."""

    slug: str
    title: str
    plan: ExamPlan
    topics: list[dict[str, Any]]
    critical: list[str]
    chances: list[dict[str, int]]
    history: list[ExamPlan]
    problem: str


def plan_page(member: Member, module: str) -> PlanPage | None:
    """Give the plan of a module that holds today; None without module or plan."""
    version = library.current_module(module)
    plan = queries.plan_in_force(member.company, module, on=member.today)
    if version is None or plan is None:
        return None
    language = member.language
    titled = {question.id: question.texts[cases.spoken(language)] for question in library.questions_of(version)}
    return PlanPage(
        slug=module,
        title=library.module_of(version).title[cases.spoken(language)],
        plan=plan,
        topics=[
            {"title": topic_text(topic, language), "count": count} for topic, count in json.loads(plan.topics).items()
        ],
        critical=[titled[one].title if one in titled else one for one in json.loads(plan.critical)],
        chances=chances(questions=plan.questions, passing_score=plan.passing_score),
        history=queries.plans_of(member, module),
        problem=plans.problem_with(plan, cases.candidates(version)),
    )


def plan_initial(member: Member, shown: PlanPage) -> dict[str, Any]:
    """Give the form of a company's own plan what holds today, to change."""
    names = ("passing_score", "minutes", "wait_hours", "valid_months")
    return {**{name: getattr(shown.plan, name) for name in names}, "effective_from": member.today}


@dataclass(frozen=True)
class AskedRow:
    """A lettered row of a question: whether it was marked, and whether it is of the right answer."""

    letter: str
    text: str
    marked: bool
    right: bool


@dataclass(frozen=True)
class JudgedSheet:
    """A sheet of an ended sitting as staff see it: what was asked, entered, right, and what was wrong about it.

    `asked` and `rows` are in the sitting's language, as whoever sat saw them; the rest is in the reader's.
    """

    number: int
    title: str
    topic: str
    critical: bool
    blank: bool
    unread: bool
    right: bool
    given: str
    answer: str
    mistakes: list[str]
    asked: dict[str, Any]
    rows: list[AskedRow]


def judged_sheets(sitting: Sitting, language: str) -> list[JudgedSheet]:
    """Give every sheet of an ended sitting with the verdict that was stored; nothing while it is open."""
    judged = {sheet["number"]: sheet for sheet in score_sheets(sitting)}
    if not judged:
        return []
    return [
        _judged(one, judged[one.sheet.number], language, asked_in=sitting.language)
        for one in queries.answered_sheets(sitting)
    ]


def _judged(one: queries.Answered, stored: dict[str, Any], language: str, *, asked_in: str) -> JudgedSheet:
    verdict = cases.verdict_on(one.sheet.evidence, one.response, language)  # for its words; right or not is as stored
    return JudgedSheet(
        number=one.sheet.number,
        title=cases.title_of(one.sheet.evidence, language),
        topic=topic_text(one.sheet.topic, language),
        critical=one.sheet.critical,
        blank=stored["blank"],
        unread=stored["unread"],
        right=stored["right"],
        given=verdict.given_text,
        answer=verdict.answer_text,
        mistakes=[mistake.message for mistake in verdict.mistakes if mistake.id in stored["mistakes"]],
        asked=cases.shown(one.sheet.evidence, asked_in) | {"targets": []},  # nobody points at this page's drawings
        rows=_asked_rows(one, asked_in),
    )


def _asked_rows(one: queries.Answered, language: str) -> list[AskedRow]:
    """Give the lettered rows; in the order of steps every row belongs to the answer, so none is marked there."""
    case = cases.stored_case(one.sheet.evidence)
    marked = {*one.response.get("rows", []), one.response.get("part")}
    right = set() if case.kind == "order" else {row.letter for row in case.rows if row.right}
    return [
        AskedRow(row["letter"], row["text"], row["letter"] in marked, row["letter"] in right)
        for row in cases.shown(one.sheet.evidence, language)["rows"]
    ]
