"""Cases made, answered with mistakes and judged a second on one core, beside the bare cost of the same rule calls.

Every question of every kind takes part under the newest revision of its specification. The processor's own time counts,
not the clock's, and each figure is the median of several runs. Bare calls are those of the very same cases, draws that
were refused and drawn again included.
"""

import random
import statistics
import time
import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from trainer.questions.case import Case
from trainer.questions.cases import make_case
from trainer.questions.format import parse_question
from trainer.questions.model import KINDS, Question
from trainer.questions.sample_responses import right_response, wrong_response
from trainer.questions.verdict import judge
from trainer.rules.registry import Rule
from trainer.rules.specification import Specification, parse_specification

ROOT = Path(__file__).resolve().parent.parent.parent
EACH = 40
RUNS = 5
Pair = tuple[Question, Specification]
Calls = list[tuple[Callable[..., Any], dict[str, Any]]]


class Cost(NamedTuple):
    """Processor seconds of cases made, answered and judged, and of their bare rule calls; numbers of calls, answers."""

    whole: float
    bare: float
    calls: int
    answers: int


def newest_of(name: str) -> Path:
    """Find the newest revision's file: revisions are dates, compared without the file's ending."""
    return max((ROOT / "lessons" / "specifications" / name).glob("*.toml"), key=lambda path: path.stem)


def questions() -> list[Pair]:
    """Read every question, with the newest revision of its module's specification."""
    lessons = ROOT / "lessons"
    found: list[Pair] = []
    for module in sorted(lessons.glob("*/module.toml")):
        name = tomllib.loads(module.read_text())["specification"]
        newest = newest_of(name)
        specification = parse_specification(newest.read_text(), newest.relative_to(lessons).as_posix())
        paths = sorted(module.parent.glob("questions/*.toml"))
        parsed = (parse_question(path.read_text(), path.relative_to(lessons).as_posix()) for path in paths)
        found += [(question, specification) for question in parsed]
    return found


def cases(pairs: list[Pair], seed: str) -> Iterator[Case]:
    """Make `EACH` cases of each question."""
    for question, specification in pairs:
        for number in range(EACH):
            yield make_case(question, specification, f"{seed} {number}")


def answer_all(pairs: list[Pair], seed: str) -> int:
    """Make cases; answer each right, and wrong with every mistake of its own; judge every answer; give their number."""
    chance, answers = random.Random(7), 0
    for case in cases(pairs, seed):
        answers += 1 + max(len(case.mistakes), 1)
        _ = judge(case, right_response(case), "en").right
        for mistake in case.mistakes:
            _ = judge(case, {"text": mistake.shown["en"]}, "en").codes
        if not case.mistakes:
            _ = judge(case, wrong_response(case, chance), "en").codes
    return answers


def show_all(pairs: list[Pair], seed: str) -> None:
    """Make cases; read the stem and the drawing of each."""
    for case in cases(pairs, seed):
        _ = case.stem["en"], case.drawing and case.drawing["en"].svg


@contextmanager
def noted(calls: Calls) -> Iterator[None]:
    """Note every call of a rule."""
    work = Rule.work

    def note(self: Rule[Any, Any], **inputs: Any) -> Any:
        calls.append((self.function, inputs))
        return work(self, **inputs)

    Rule.work = note  # type: ignore[method-assign]
    try:
        yield
    finally:
        Rule.work = work  # type: ignore[method-assign]


def again(calls: Calls) -> None:
    """Call the bare functions again; a refusal costs what it costs."""
    for function, inputs in calls:
        try:
            function(**inputs)
        except Exception:  # noqa: BLE001, S112
            continue


def seconds(act: Callable[..., object], *arguments: object) -> float:
    """Give the processor seconds that an act takes."""
    start = time.process_time()
    act(*arguments)
    return time.process_time() - start


def cost(pairs: list[Pair], run: int) -> Cost:
    """Give what the cases of these questions cost; no seed is used twice, so that nothing can be remembered."""
    calls: Calls = []
    with noted(calls):
        answers = answer_all(pairs, f"noted {run}")
    return Cost(seconds(answer_all, pairs, f"timed {run}"), seconds(again, calls), len(calls), answers)


def main() -> None:
    """Print cases a second by kind, the ratio to the bare rule calls, and cases with stem and drawing a second."""
    pairs = questions()
    answer_all(pairs, "warm")
    show_all(pairs, "warm")
    by_kind = {kind: [pair for pair in pairs if pair[0].kind == kind] for kind in KINDS}
    costs = {kind: [cost(some, run) for run in range(RUNS)] for kind, some in by_kind.items()}
    print("cases made, answered with every mistake and judged, a second on one core:")
    for kind, some in by_kind.items():
        _line(kind, len(some), costs[kind])
    every = [Cost(*(sum(column) for column in zip(*runs, strict=True))) for runs in zip(*costs.values(), strict=True)]
    _line("all", len(pairs), every)
    asking = [pair for pair in pairs if rule_calls(pair) >= EACH]
    _line("those that ask rules", len(asking), [cost(asking, run) for run in range(RUNS)], beside=True)
    drawn = [pair for pair in pairs if pair[0].drawing is not None]
    for name, shown in (("all", pairs), ("those with a drawing", drawn)):
        took = statistics.median(seconds(show_all, shown, f"shown {run}") for run in range(RUNS))
        print(f"cases with stem and drawing in text, {name}: {EACH * len(shown) / took:,.0f} a second")


def rule_calls(pair: Pair) -> int:
    """Count the rule calls of `EACH` cases of a question."""
    calls: Calls = []
    with noted(calls):
        answer_all([pair], "counted")
    return len(calls)


def _line(name: str, questions: int, costs: list[Cost], *, beside: bool = False) -> None:
    """Print a line; with `beside`, the bare cost of the rule calls too, which other kinds hardly have."""
    made = EACH * questions
    whole = statistics.median(one.whole for one in costs)
    line = f"  {name} ({questions} questions): {made / whole:,.0f}, {costs[0].answers / whole:,.0f} answers"
    if beside:
        bare = statistics.median(one.bare for one in costs)
        ratio = statistics.median(one.whole / one.bare for one in costs)
        line += f"; their {costs[0].calls / made:.1f} bare rule calls each {made / bare:,.0f}, ratio {ratio:.1f}"
    print(line)


if __name__ == "__main__":
    main()
