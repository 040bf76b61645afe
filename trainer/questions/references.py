"""Checks what a question refers to without a specification: rules, drawings, expressions, ids that fit together."""

from collections.abc import Iterable, Iterator
from typing import Final

from trainer.drawings import DrawingInputError, get_drawing
from trainer.questions import targets, wording
from trainer.questions.expressions import ExpressionError, compile_expression
from trainer.questions.lines import Path
from trainer.questions.model import Question, Source
from trainer.questions.quantities import any_quantity
from trainer.rules import REGISTRY, UnknownRuleError, get_rule
from trainer.rules.specification import Problem

RESERVED: Final = ("answer", "mistake")
MOST_MISTAKES: Final = 6
DRAWING_WORDS: Final = ("show", "ask", "part")


def problems_of(question: Question) -> list[Problem]:
    """Give every problem that shows without a specification."""
    return [
        *_names(question),
        *_sources(question),
        *_expressions(question),
        *_mistakes(question),
        *_drawings(question),
        *_kind(question),
        *targets.problems_of(question),
        *wording.problems_of(question),
    ]


def sources_of(question: Question) -> Iterator[tuple[Path, Source]]:
    """Give each working of the question with the path of its table."""
    for name, source in question.values:
        yield ("values", name), source
    if question.answer is not None:
        yield ("answer",), question.answer
    for mistake in question.mistakes:
        if mistake.source is not None:
            yield ("mistakes", mistake.id), mistake.source
    for index, constraint in enumerate(question.constraints):
        if constraint.source is not None:
            yield ("constraints", index), constraint.source


def _names(question: Question) -> Iterator[Problem]:
    parameters = {parameter.name for parameter in question.parameters}
    for name, _ in question.values:
        if name in parameters:
            message = f'"{name}" is a parameter and a value; rename one of them'
            yield question.problem("E204", ("values", name), message)
    for section, names in (("parameters", parameters), ("values", {name for name, _ in question.values})):
        for name in names:
            if name in RESERVED:
                message = f'"{name}" is a word of the format; give the name another one'
                yield question.problem("E204", (section, name), message)


def _sources(question: Question) -> Iterator[Problem]:
    for path, source in sources_of(question):
        if source.rule is None:
            if source.inputs:
                message = "inputs belong to a rule; write a rule, or put them into the expression"
                yield question.problem("E205", (*path, "inputs"), message)
            continue
        try:
            rule = get_rule(source.rule)
        except UnknownRuleError as error:
            yield question.problem("E205", (*path, "rule"), str(error))
            continue
        yield from _unknown_inputs(question, (*path, "inputs"), source.inputs, source.rule)
        inherits = path[0] == "mistakes" and question.answer is not None and question.answer.item is not None
        if rule.result.kind is tuple and source.item is None and path[0] != "values" and not inherits:
            message = f'rule "{rule.name}" gives a list; add item = 3, a name or "last"'
            yield question.problem("E205", path, message)
        if rule.result.kind is not tuple and source.item is not None:
            message = f'rule "{rule.name}" gives one value, not a list; remove item'
            yield question.problem("E205", (*path, "item"), message)


def _unknown_inputs(question: Question, path: Path, given: Iterable[str], rule_name: str) -> Iterator[Problem]:
    known = [item.name for item in get_rule(rule_name).inputs]
    for name in given:
        if name not in known:
            message = f'rule "{rule_name}" has no input "{name}"; its inputs are {", ".join(known)}'
            yield question.problem("E205", (*path, name), message)


def _expressions(question: Question) -> Iterator[Problem]:
    for path, source in sources_of(question):
        if source.expression is not None:
            yield from _compiles(question, (*path, "expression"), source.expression, condition=False)
    for index, constraint in enumerate(question.constraints):
        if constraint.condition is not None:
            path = ("constraints", index, "condition")
            yield from _compiles(question, path, constraint.condition, condition=True)
    section = "steps" if question.kind == "order" else "rows"
    for index, row in enumerate(question.rows):
        for key, text in (("right", row.right), ("when", row.when)):
            if isinstance(text, str):
                yield from _compiles(question, (section, index, key), text, condition=True)


def _compiles(question: Question, path: Path, text: str, *, condition: bool) -> Iterator[Problem]:
    try:
        compile_expression(text, any_quantity, condition=condition)
    except ExpressionError as error:
        yield question.problem("E207", path, str(error))
    except ValueError as error:
        yield question.problem("E207", path, f'"{text}": {error}')


def _mistakes(question: Question) -> Iterator[Problem]:
    answer = question.answer
    if answer is None:
        if question.mistakes:
            message = "mistakes without an answer; add [answer], or write the wrong rows as rows"
            yield question.problem("E214", ("mistakes",), message)
        return
    least = 2 if question.kind == "choice" else 1
    if not least <= len(question.mistakes) <= MOST_MISTAKES:
        message = f"{len(question.mistakes)} mistakes; write {least} to {MOST_MISTAKES} tables [mistakes.ID]"
        yield question.problem("E214", ("mistakes",), message)
    for mistake in question.mistakes:
        path: Path = ("mistakes", mistake.id, "changed")
        if mistake.changed and answer.rule in REGISTRY:
            yield from _unknown_inputs(question, path, mistake.changed, answer.rule or "")
        elif mistake.changed and answer.value is not None:
            message = "an answer by value has nothing to change; write a rule, expression or value for the mistake"
            yield question.problem("E214", path, message)
    ids = {mistake.id for mistake in question.mistakes}
    for index, constraint in enumerate(question.constraints):
        if constraint.mistake is not None and constraint.mistake not in ids:
            message = f"there is no [mistakes.{constraint.mistake}]; the mistakes are {', '.join(ids) or 'none'}"
            yield question.problem("E214", ("constraints", index, "mistake"), message)


def _drawings(question: Question) -> Iterator[Problem]:
    for key, call in (("drawing", question.drawing), ("after_drawing", question.after_drawing)):
        if call is None:
            continue
        try:
            kind = get_drawing(call.name)
        except DrawingInputError as error:
            yield question.problem("E206", (key,), str(error))
            continue
        known = [item.name for item in kind.inputs]
        for name in call.inputs:
            if name not in (*known, *DRAWING_WORDS):
                message = (
                    f'drawing "{call.name}" has no input "{name}"; its inputs are {", ".join((*known, *DRAWING_WORDS))}'
                )
                yield question.problem("E206", (key, name), message)


def _kind(question: Question) -> Iterator[Problem]:
    if question.kind in ("measure", "count"):
        if not question.parameters:
            yield question.problem("E203", (), "no [parameters]: every case would be the same; add one with a grid")
        if question.kind == "count" and question.within is not None:
            yield question.problem("E203", ("answer", "within"), "a count is exact; remove within")
    elif question.answer is not None and question.kind in ("order", "judge", "spot"):
        yield question.problem("E203", ("answer",), f"a question of kind {question.kind} has no [answer]; remove it")
    if question.kind == "choice":
        yield from _choice(question)
    elif question.kind == "order":
        yield from _duplicates(question, "steps", [row.id for row in question.rows])
        yield from _order(question)
    elif question.kind == "judge":
        yield from _duplicates(question, "readings", [reading.id for reading in question.readings])
        yield from _enough(question, "readings", len(question.readings))


def _choice(question: Question) -> Iterator[Problem]:
    yield from _duplicates(question, "rows", [row.id for row in question.rows])
    if question.answer is not None:
        if question.rows:
            yield question.problem("E212", ("rows",), "both [answer] and [[rows]]; keep the numbers or the texts")
        return
    yield from _enough(question, "rows", len(question.rows))
    least, most = question.right
    possible = sum(row.right is not False for row in question.rows)
    if possible < least:
        message = f"only {possible} rows can be right where {least} are asked for; add rows or lower right"
        yield question.problem("E212", ("right",), message)
    if most >= (question.show or 4):
        message = f"{most} right rows of {question.show or 4} shown leave none wrong; lower right or raise show"
        yield question.problem("E212", ("right",), message)


def _duplicates(question: Question, section: str, ids: list[str]) -> Iterator[Problem]:
    for index, one in enumerate(ids):
        if one in ids[:index]:
            message = f'"{one}" stands twice; give each of [[{section}]] its own id'
            yield question.problem("E212", (section, index, "id"), message)


def _enough(question: Question, section: str, count: int) -> Iterator[Problem]:
    least = max(3, question.show or 3)
    if count < least:
        message = f"{count} of [[{section}]] where at least {least} are needed; add some, or lower show"
        yield question.problem("E212", (section,), message)


def _order(question: Question) -> Iterator[Problem]:
    yield from _enough(question, "steps", len(question.rows))
    place = {row.id: index for index, row in enumerate(question.rows)}
    tied: set[str] = set()
    for index, pair in enumerate(question.pairs):
        for key, one in (("before", pair.before), ("after", pair.after)):
            tied.add(one)
            if one not in place:
                message = f'there is no step "{one}"; the steps are {", ".join(place)}'
                yield question.problem("E211", ("pairs", index, key), message)
        if place.get(pair.before, -1) >= place.get(pair.after, len(place)):
            message = (
                f'"{pair.before}" must stand before "{pair.after}", but [[steps]] are not in that order; '
                "swap the steps, or the pair (two pairs that contradict each other go round in a circle)"
            )
            yield question.problem("E211", ("pairs", index), message)
    for index, row in enumerate(question.rows):
        if row.id not in tied:
            message = f'step "{row.id}" is in no pair, so it may stand anywhere; tie it with [[pairs]] or leave it out'
            yield question.problem("E211", ("steps", index, "id"), message)
