"""Tries a question many times under a specification and reports what makes it useless, unfair or broken."""

import re
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from typing import Any, Final

from trainer.drawings import DrawingInputError
from trainer.questions import trial_of_spot
from trainer.questions.case import Case
from trainer.questions.cases import CaseError, draft_case, plan_for, tell
from trainer.questions.draft import EQUALS_ANSWER, EQUALS_OTHER, REFUSED, SHOWN, Draft
from trainer.questions.lines import Path
from trainer.questions.model import LANGUAGES, Question
from trainer.questions.plan import Plan
from trainer.questions.sample_responses import right_response
from trainer.questions.verdict import judge
from trainer.rules.specification import ContentError, Problem, Specification

CASES: Final = 200
DISTINCT: Final = 20
DRAWN: Final = 4
_SAME_ANSWER: Final = Fraction(9, 10)
_TOO_OFTEN: Final = Fraction(1, 2)
_GIVEN_AWAY: Final = Fraction(3, 5)


def try_question(question: Question, specification: Specification, cases: int = CASES) -> tuple[int, list[Problem]]:
    """Make `cases` cases, read each in both languages, answer it; give how many were made and the problems."""
    try:
        plan = plan_for(question, specification)
    except ContentError as error:
        return 0, list(error.problems)
    drafts: list[Draft] = []
    given_away: Counter[str] = Counter()
    found: dict[tuple[str, Path], str] = {}
    for seed in range(cases):
        try:
            draft = draft_case(plan, f"check {seed}")
        except CaseError as error:
            found.setdefault(("E220", ("constraints",)), str(error))
            break
        drafts.append(draft)
        case, whole = tell(plan, draft, ""), seed % (cases // DRAWN) == 0
        for code, path, message in _try_case(plan, case, whole=whole):
            found.setdefault((code, path), message)
        if whole and not found:
            given_away.update(_given_away(case))
    for key, count in given_away.items():
        if count >= DRAWN:
            message = f"the {key} shows the answer in every case tried; take it out, or ask for another number"
            found.setdefault(("E233", ("text", "en", key) if key == "stem" else (key,)), message)
    over_all = _over_all(plan, drafts) if len(drafts) == cases >= CASES else ()  # fewer say nothing of how often
    for code, path, message in (*trial_of_spot.findings(plan, drafts), *over_all):
        found.setdefault((code, path), message)
    return len(drafts), [question.problem(code, path, message) for (code, path), message in found.items()]


Finding = tuple[str, Path, str]


def _try_case(plan: Plan, case: Case, *, whole: bool) -> Iterator[Finding]:
    try:
        yield from _texts(plan, case)
        yield from _judged(case)
        if whole:
            for language in LANGUAGES:
                _ = case.steps[language]
            yield from _drawn(case)
    except ContentError as error:
        for problem in error.problems:
            yield problem.id.removeprefix("content."), _path_at(plan.question, problem.line), problem.message


def _path_at(question: Question, line: int) -> Path:
    return next((path for path, at in question.lines.items() if at == line), ())


def _texts(plan: Plan, case: Case) -> Iterator[Finding]:
    """Read every text in both languages; a number shown must be the number that is answered."""
    for language in LANGUAGES:
        _ = case.stem[language], case.after[language], case.answer.text[language]
        for mistake in case.mistakes:
            _ = mistake.text[language], mistake.shown[language]
        for row in case.rows:
            _ = row.text[language], row.why and row.why[language], row.limit and row.limit[language]
    texts = [row.text["en"] for row in case.rows]
    if case.kind in ("choice", "order") and len(set(texts)) < len(texts):
        twice = next(text for text in texts if texts.count(text) > 1)
        yield "E227", ("text", "en"), f'two rows of one case read "{twice}"; make their texts differ'
    for parameter in plan.draws:
        text = case.parameters[parameter.name]
        shown = parameter.dimension.text(parameter.dimension.parse(text), plan.specification.units, "en")
        if parameter.dimension.unit == "in" and parameter.dimension.parse(shown) != parameter.dimension.parse(text):
            message = f'"{parameter.name}" is {text}, but a tape shows {shown}; choose a step that lies on tape marks'
            yield "E232", ("parameters", parameter.name), message


def _judged(case: Case) -> Iterator[Finding]:
    """The right answer, as shown, must be judged right, and each mistake wrong with its own explanation."""
    verdict = judge(case, right_response(case), "en")
    if not verdict.right:
        message = (
            f'the answer as shown, "{case.answer.text["en"]}", is judged wrong ({verdict.message}); '
            "round to a mark the answer lies on (nearest), or widen within"
        )
        yield "E230", ("answer",), message
    for row in case.rows:
        if case.kind == "spot" and not row.right and judge(case, {"part": row.letter}, "en").right:
            yield "E230", ("targets",), f'pointing at "{row.text["en"]}" is judged right though it is sound'
    if case.answer.dimension is None:
        return
    for mistake in case.mistakes:
        verdict = judge(case, {"text": mistake.shown["en"]}, "en")
        if verdict.right:
            message = f'mistake "{mistake.id}" as shown, {mistake.shown["en"]}, is judged right; make within smaller'
            yield "E223", ("mistakes", mistake.id), message


def _given_away(case: Case) -> list[str]:
    """Tell where the answer stands in what is shown with the question; once may be chance, every time is not."""
    dimension = case.answer.dimension
    if dimension is None or dimension.unit == "":
        return []
    answer = re.compile(rf"(?<![\w/.]){re.escape(case.answer.text['en'])}(?![\w/])")
    shown = {"stem": case.stem["en"], "drawing": case.drawing["en"].alt if case.drawing is not None else ""}
    return [key for key, text in shown.items() if answer.search(text)]


def _drawn(case: Case) -> Iterator[Finding]:
    for key, drawing in (("drawing", case.drawing), ("after_drawing", case.after_drawing)):
        if drawing is None:
            continue
        try:
            for language in LANGUAGES:
                _ = drawing[language]
        except DrawingInputError as error:
            yield "E226", (key,), str(error)
        except (ValueError, ArithmeticError) as error:
            yield "E226", (key,), f"the drawing fails: {error}"


def _over_all(plan: Plan, drafts: list[Draft]) -> Iterator[Finding]:
    yield from _distinct(plan, drafts)
    yield from _mistakes(plan, drafts)
    if plan.question.kind in ("choice", "order") and plan.question.rows:
        yield from _rows(plan, drafts)
    if plan.question.kind == "choice" and plan.question.rows:
        yield from _guessable(plan, drafts)
    if plan.question.kind == "judge":
        yield from _judge(plan, drafts)
    if plan.question.kind == "spot":
        yield from trial_of_spot.never_planted(plan, drafts)


def _distinct(plan: Plan, drafts: list[Draft]) -> Iterator[Finding]:
    different = {_likeness(draft) for draft in drafts}
    if len(different) < DISTINCT:
        path: Path = ("parameters",) if plan.draws else ()
        message = (
            f"only {len(different)} different cases in {len(drafts)}, {DISTINCT} are needed; "
            "add a parameter, a finer grid, or more rows than are shown"
        )
        yield "E221", path, message
    if plan.answer is None:
        return
    answers = Counter(plan.answer.dimension.text(draft.value) for draft in drafts)
    common, count = answers.most_common(1)[0]
    if count > len(drafts) * _SAME_ANSWER:
        message = (
            f"the answer is {common} in {count} of {len(drafts)} cases, so it can be learned by heart; widen the grid"
        )
        yield "E222", ("answer",), message


def _likeness(draft: Draft) -> tuple[Any, ...]:
    """What makes a case another one: its numbers and which rows it shows, not their order."""
    numbers = tuple(sorted((name, text) for name, text in draft.drawn.items() if name != "rows"))
    return numbers, frozenset(draft.rows)


def _mistakes(plan: Plan, drafts: list[Draft]) -> Iterator[Finding]:
    became = {one: Counter[str]() for one, _ in plan.mistakes}
    for draft in drafts:
        for one, _, outcome in draft.mistakes:
            became[one][outcome] += 1
    total = len(drafts)
    for one, outcomes in became.items():
        path: Path = ("mistakes", one)
        if outcomes[REFUSED] == total:
            yield "E225", path, f'mistake "{one}" is refused by its rule in every case; change its inputs'
        elif outcomes[SHOWN] == 0 and not outcomes[EQUALS_ANSWER] and not outcomes[EQUALS_OTHER]:
            yield "E225", path, f'mistake "{one}" never occurs; change its inputs'
        for outcome, code in ((EQUALS_ANSWER, "E223"), (EQUALS_OTHER, "E224"), (REFUSED, "E225")):
            if total > outcomes[outcome] > total * _TOO_OFTEN or (outcome != REFUSED and outcomes[outcome] == total):
                mending = f'add a constraint with mistake = "{one}", or change the grid or the mistake'
                message = (
                    f'mistake "{one}" is left out of {outcomes[outcome]} of {total} cases because it {_verb(outcome)}'
                )
                yield code, path, f"{message}; {mending}"


def _verb(outcome: str) -> str:
    return "is refused by its rule" if outcome == REFUSED else outcome


def _rows(plan: Plan, drafts: list[Draft]) -> Iterator[Finding]:
    shown: Counter[str] = Counter()
    right: Counter[str] = Counter()
    for draft in drafts:
        shown.update(draft.rows)
        right.update(draft.right)
    section = "steps" if plan.question.kind == "order" else "rows"
    for index, row in enumerate(plan.question.rows):
        path: Path = (section, index)
        if not shown[row.id]:
            message = f'"{row.id}" is never drawn in {len(drafts)} cases; mend its condition, or the pairs that tie it'
            yield "E227", path, message
        elif isinstance(row.right, str) and section == "rows" and right[row.id] in (0, shown[row.id]):
            always = "never" if not right[row.id] else "always"
            yield "E227", (*path, "right"), f'"{row.right}" is {always} true where "{row.id}" is shown; widen the grid'


def _guessable(plan: Plan, drafts: list[Draft]) -> Iterator[Finding]:
    """Find a right row that its length or place gives away, where one row is to be picked."""
    if plan.question.right != (1, 1):
        return
    places = Counter(next(place for place, row in enumerate(draft.rows) if row in draft.right) for draft in drafts)
    place, count = places.most_common(1)[0]
    if count > len(drafts) * _GIVEN_AWAY:
        message = f"the right row is {'ABCDEFGH'[place : place + 1]} in {count} of {len(drafts)} cases; let rows change"
        yield "E256", ("rows",), message
    for language in LANGUAGES:
        items = plan.question.texts[language].items
        length = {row: sum(len(piece) for piece in text.pieces) for row, text in items.items()}
        longest = 0
        for draft in drafts:
            first, second = sorted(draft.rows, key=lambda row: length[row], reverse=True)[:2]
            longest += first in draft.right and length[first] > length[second]
        if longest > len(drafts) * _GIVEN_AWAY:
            message = (
                f"the right row is the longest in {longest} of {len(drafts)} cases, so it can be guessed; "
                "shorten it, or make wrong rows as long"
            )
            yield "E255", ("text", language, "rows"), message


def _judge(plan: Plan, drafts: list[Draft]) -> Iterator[Finding]:
    failing: Counter[str] = Counter()
    kept: Counter[str] = Counter()
    for draft in drafts:
        failing.update(set(draft.rows) - draft.right)
        kept.update(draft.right)
    sound = sum(len(draft.right) == len(draft.rows) for draft in drafts)
    if not len(drafts) / 10 <= sound <= len(drafts) * 9 / 10:
        message = f"{sound} of {len(drafts)} cases have no fault, so the decision can be guessed; mend the readings"
        yield "E228", (), message
    for index, reading in enumerate(plan.question.readings):
        for count, what, key in ((failing, "fails", "bad"), (kept, "is sound", "good")):
            if not count[reading.id]:
                message = (
                    f'reading "{reading.id}" never {what}, so seeing it gives the answer away; mend its {key} distances'
                )
                yield "E228", ("readings", index, key), message
