"""Cases made, answered with mistakes and judged a second on one core, beside the bare cost of the same rule calls."""

import time
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from trainer.questions.cases import make_case
from trainer.questions.format import parse_question
from trainer.questions.model import Question
from trainer.questions.sample_responses import right_response
from trainer.questions.verdict import judge
from trainer.rules.registry import Rule
from trainer.rules.specification import Specification, parse_specification

ROOT = Path(__file__).resolve().parent.parent.parent
EACH = 200


def questions_and_specification() -> tuple[list[Question], Specification]:
    """Read every question, and the newest revision of its module's specification."""
    lessons = ROOT / "lessons"
    paths = sorted(lessons.glob("*/questions/*.toml"))
    found = [parse_question(path.read_text(), path.relative_to(lessons).as_posix()) for path in paths]
    name = tomllib.loads((lessons / found[0].id.split("/")[0] / "module.toml").read_text())["specification"]
    newest = max((lessons / "specifications" / name).glob("*.toml"))
    return found, parse_specification(newest.read_text(), newest.relative_to(lessons).as_posix())


def go(questions: list[Question], specification: Specification, seed: str) -> int:
    """Make, answer right and with each mistake, and judge `EACH` cases of each question; give how many cases."""
    for question in questions:
        for number in range(EACH):
            case = make_case(question, specification, f"{seed} {number}")
            judge(case, right_response(case), "en")
            for mistake in case.mistakes:
                judge(case, {"text": mistake.shown["en"]}, "en")
    return EACH * len(questions)


def timed(act: Callable[[], Any]) -> tuple[float, Any]:
    """Give the processor seconds that an act takes, and its result."""
    start = time.process_time()
    result = act()
    return time.process_time() - start, result


def main() -> None:
    """Print cases a second and the ratio to the bare rule calls."""
    questions, specification = questions_and_specification()
    numeric = [question for question in questions if question.kind in ("measure", "count")]
    go(numeric, specification, "warm")
    calls: list[tuple[Rule[Any, Any], dict[str, Any]]] = []
    work = Rule.work

    def noted(self: Rule[Any, Any], **inputs: Any) -> Any:
        calls.append((self, inputs))
        return work(self, **inputs)

    Rule.work = noted  # type: ignore[method-assign]
    go(numeric, specification, "timed")
    Rule.work = work  # type: ignore[method-assign]
    seconds, cases = timed(lambda: go(numeric, specification, "timed"))

    def bare() -> None:
        for rule, inputs in calls:
            try:
                rule.function(**inputs)
            except Exception:  # noqa: BLE001, S112  a refused draw costs what it costs
                continue

    alone, _none = timed(bare)
    print(f"cases made, answered and judged: {cases / seconds:,.0f} a second on one core ({len(numeric)} questions)")
    print(f"  bare rule calls of the same cases: {cases / alone:,.0f} cases a second; ratio {seconds / alone:.1f}")


if __name__ == "__main__":
    main()
