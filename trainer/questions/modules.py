"""Reads a module file: `parse_module(text, path)` for `lessons/MODULE/module.toml`."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from trainer.questions.model import BothLanguages
from trainer.questions.tables import WRONG, Reader, Table
from trainer.questions.wording import is_untranslated

_DAYS_OF_A_YEAR_IN_HOURS: Final = 24 * 365


@dataclass(frozen=True)
class CheckPlan:
    """The plan of the short exam that ends a module.

    `questions` in all, `topics` how many of each, `passing_score` right ones with its `reason`, `minutes` for the
    sitting, `wait_hours` before another, `valid_months` the record holds, `critical` ids of questions that must be
    right.
    """

    questions: int
    topics: Mapping[str, int]
    passing_score: int
    reason: BothLanguages
    minutes: int
    wait_hours: int
    valid_months: int
    critical: tuple[str, ...]


@dataclass(frozen=True)
class Module:
    """A module: its `name` is the folder's, `specification` the name whose revisions its numbers come from.

    `since` is the first of those revisions that holds all of them; empty when every revision does. Lists show modules
    by `order`, the way that somebody new reads them.
    """

    name: str
    path: str
    title: BothLanguages
    summary: BothLanguages
    specification: str
    since: str
    order: int
    minutes: int
    check: CheckPlan


def covers(module: Module, revision: str) -> bool:
    """Tell whether a revision of the module's specification, by its name such as `2026-11`, holds its values."""
    return revision >= module.since


def module_name(path: str) -> str:
    """Give the folder's name of `…/MODULE/module.toml`."""
    parts = path.replace("\\", "/").split("/")
    return parts[-2] if len(parts) > 1 else ""


def parse_module(text: str, path: str) -> Module:
    """Read one module file.

    Raises:
        ContentError: Every problem found, each with file, line, id and how to mend it.
    """
    reader = Reader(text, path)
    root = reader.root
    module = Module(
        name=module_name(path),
        path=path,
        title=root.both("title", required=True),
        summary=root.both("summary", required=True),
        specification=root.text("specification", required=True),
        since=root.text("since"),
        order=root.whole("order", most=9999),
        minutes=root.whole("minutes", required=True, least=1, most=240, default=1),
        check=_check(root.table("check", required=True)),
    )
    for key, said in (("title", module.title), ("summary", module.summary)):
        if said and is_untranslated(said["en"], said["es"]):
            root.problem("E210", key, f"{key} is the same in both languages; translate it")
    root.close()
    reader.stop_on_problems()
    return module


def _check(table: Table) -> CheckPlan:
    count = table.whole("questions", required=True, least=1, most=100, default=1)
    topics = table.table("topics", required=True)
    plan = CheckPlan(
        questions=count,
        topics={name: topics.whole(name, required=True, least=1, most=100, default=1) for name in topics},
        passing_score=table.whole("passing_score", required=True, least=1, most=100, default=1),
        reason=table.both("reason", required=True),
        minutes=table.whole("minutes", required=True, least=1, most=480, default=1),
        wait_hours=table.whole("wait_hours", required=True, most=_DAYS_OF_A_YEAR_IN_HOURS),
        valid_months=table.whole("valid_months", required=True, least=1, most=120, default=1),
        critical=table.texts("critical"),
    )
    table.close()
    total = sum(plan.topics.values())
    if plan.topics and total != count:
        table.problem(WRONG, "topics", f"the topics ask for {total} questions, the plan for {count}; make them agree")
    if plan.passing_score > count:
        message = f"nobody can get {plan.passing_score} of {count} right; lower the passing score"
        table.problem(WRONG, "passing_score", message)
    return plan
