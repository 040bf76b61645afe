"""What the library's pages show: rows fetched in a bounded number of queries and put together for the templates."""

from collections import Counter
from typing import Any, Final

from trainer.library import presenting, queries, rendering
from trainer.library.models import Adoption, ModuleVersion, SpecificationRevision
from trainer.library.photographs.queries import photos_for
from trainer.people.access import Member
from trainer.questions.model import LANGUAGES, Language, Question
from trainer.questions.modules import Module, covers
from trainer.rules.specification import ContentError

LANGUAGE_NAMES: Final[dict[Language, str]] = {"en": "English", "es": "Español"}


def _language(member: Member) -> Language:
    return "es" if member.language == "es" else "en"


def modules_for(member: Member) -> list[dict[str, Any]]:
    """List the modules for staff, each with its version and how many questions are in which state."""
    versions = queries.module_versions()
    by_slug = {version.slug: version for version in versions}
    modules = queries.modules_of(versions)
    questions = queries.questions_by_module(versions)
    in_force = queries.in_force_by_name(member.company, on=member.today)
    return [
        {
            "version": version,
            "title": module.title[_language(member)],
            "specification": module.specification,
            "adoption": in_force.get(module.specification),
            "states": _states(questions[version.slug]),
        }
        for slug, module in modules.items()
        for version in [by_slug[slug]]
    ]


def _states(questions: list[Question]) -> list[dict[str, Any]]:
    counted = Counter(question.state for question in questions)
    return [{"words": words, "count": counted[state]} for state, words in presenting.STATES.items() if counted[state]]


def module_for(member: Member, version: ModuleVersion, *, search: str = "") -> dict[str, Any]:
    """Give one module for staff: what module.toml says, its check, its questions that hold the words searched for."""
    module = queries.module_of(version)
    rows = [question_row(question, member.language) for question in queries.all_questions_of(version)]
    words = search.casefold().split()
    return {
        "version": version,
        "module": module,
        "title": module.title[_language(member)],
        "summary": module.summary[_language(member)],
        "reason": module.check.reason[_language(member)],
        "topics": [
            {"name": presenting.topic_words(topic, member.language), "count": count}
            for topic, count in module.check.topics.items()
        ],
        "questions": [row for row in rows if all(word in row["searched"] for word in words)],
        "search": search,
    }


def question_row(question: Question, language: str) -> dict[str, Any]:
    """Give a question's line in a list."""
    title = presenting.title_of(question, "es" if language == "es" else "en")
    return {
        "slug": question.id.partition("/")[0],
        "stem": question.id.partition("/")[2],
        "title": title,
        "kind": presenting.KINDS[question.kind],
        "use": presenting.USES[question.use],
        "state": presenting.STATES[question.state],
        "topic": presenting.topic_words(question.topic, language),
        "critical": question.critical,
        "searched": f"{title} {question.id} {question.topic} {question.kind} {question.state}".casefold(),
    }


def _choices(
    member: Member, module: Module, language: str | None, label: str | None
) -> tuple[dict[str, Any], Language, SpecificationRevision | None]:
    """Give the language and revision that a preview is asked for, and what else may be picked."""
    picked: Language = "es" if (language or member.language) == "es" else "en"
    revisions = [
        row for row in queries.revisions() if row.name == module.specification and covers(module, row.revision)
    ]
    adoption = queries.adoption_in_force(member.company, module.specification, on=member.today)
    wanted = label or (adoption.revision.revision if adoption else "")
    revision = next((row for row in revisions if row.revision == wanted), revisions[0] if revisions else None)
    shown = {
        "language": picked,
        "languages": [{"code": code, "name": LANGUAGE_NAMES[code], "picked": code == picked} for code in LANGUAGES],
        "revision": revision,
        "revisions": [{"row": row, "picked": row == revision} for row in revisions],
        "in_force": adoption.revision if adoption else None,
    }
    return shown, picked, revision


def lesson_under(member: Member, version: ModuleVersion, language: str | None, label: str | None) -> dict[str, Any]:
    """Give a lesson in the language and under the revision asked for, or what is wrong with it."""
    module = queries.module_of(version)
    shown, picked, revision = _choices(member, module, language, label)
    shown |= {"version": version, "title": module.title[_language(member)], "lesson": None, "problems": []}
    if revision is not None:
        try:
            shown["lesson"] = rendering.render_lesson(version, revision, picked, member.company)
        except ContentError as error:
            shown["problems"] = [str(problem) for problem in error.problems]
    return shown


def case_under(
    member: Member, version: ModuleVersion, question: Question, *, seed: str, language: str | None, label: str | None
) -> dict[str, Any]:
    """Give a case of the question with this seed, in the language and under the revision asked for."""
    module = queries.module_of(version)
    shown, picked, revision = _choices(member, module, language, label)
    made = presenting.preview(question, queries.specification_of(revision), seed, picked) if revision else None
    if made is not None and made.public is not None:
        made.public["photos"] = rendering.kept_figures(photos_for(member.company, question), picked)
    return shown | {
        "version": version,
        "module_title": module.title[_language(member)],
        "question": question_row(question, member.language),
        "seed": seed,
        "preview": made,
    }


def revisions_for(member: Member) -> list[dict[str, Any]]:
    """List each specification with its revisions, the one in force today, and what the company adopted when."""
    in_force = queries.in_force_by_name(member.company, on=member.today)
    adoptions = queries.adoptions_of(member)
    rows = queries.revisions()
    specifications = queries.specifications_of(rows)
    shelf: dict[str, dict[str, Any]] = {}
    for row in rows:
        entry = shelf.setdefault(
            row.name,
            {
                "title": specifications[row.pk].title[_language(member)],
                "in_force": in_force.get(row.name),
                "revisions": [],
                "adoptions": [adoption for adoption in adoptions if adoption.name == row.name],
            },
        )
        current = in_force.get(row.name)
        entry["revisions"].append({"row": row, "in_force": current is not None and current.revision_id == row.pk})
    return list(shelf.values())


def revision_for(member: Member, row: SpecificationRevision, *, compare: str) -> dict[str, Any]:
    """Give a revision's values in words and, where another revision is named, what differs from it."""
    specification = queries.specification_of(row)
    others = [other for other in queries.revisions() if other.name == row.name and other.pk != row.pk]
    other = next((found for found in others if found.revision == compare), None)
    return {
        "revision": row,
        "title": specification.title[_language(member)],
        "units": specification.units,
        "parts": presenting.parts_of(specification, member.language),
        "others": [{"row": found, "picked": found == other} for found in others],
        "other": other,
        "differences": presenting.differences(queries.specification_of(other), specification, member.language)
        if other
        else [],
    }


def adoption_of(member: Member, row: SpecificationRevision) -> dict[str, Any]:
    """Give what adopting a revision would change: the revision in force today and the values that differ."""
    before: Adoption | None = queries.adoption_in_force(member.company, row.name, on=member.today)
    specification = queries.specification_of(row)
    changed = (
        presenting.differences(queries.specification_of(before.revision), specification, member.language)
        if before
        else []
    )
    return {
        "revision": row,
        "title": specification.title[_language(member)],
        "before": before,
        "differences": changed,
    }
