"""Reads a question file: `parse_question(text, path)`.

This part checks what the file says by itself: keys, texts in both languages, rules, drawings and expressions.
Whether its names stand in a specification is checked when the two meet (`plan`).

A spot shows a drawing with one planted fault. Its `[[targets]]` are the parts to point at: `id`, `part` (the drawing's
part; the id itself when left out), and at most one way to plant a fault: `fault = { omit = "bead" }` (inputs of the
drawing, words or operands), or `input`, `limit`, `good`, `bad`, which give an input of the drawing a reading as in a
judge. `sound` is the share of cases without a fault ("0" when left out); `show_limits` says whether the limits stand
beside the drawing. With the verdict comes the same drawing, ringed; `after_drawing` only changes its `show`.

A question of any kind may name a place for a company's own picture, `photo = "cap-sheet"`; without one nothing shows.
"""

import hashlib
import re
from fractions import Fraction
from typing import Final

from trainer.questions import references
from trainer.questions.model import (
    KINDS,
    LANGUAGES,
    STATES,
    USES,
    Constraint,
    DrawingCall,
    Grid,
    Language,
    Mistake,
    Pair,
    Parameter,
    Question,
    Reading,
    Row,
    Source,
    Target,
    Texts,
)
from trainer.questions.tables import MISSING, WRONG, Reader, Table
from trainer.questions.templates import Template, TemplateError, compile_template
from trainer.rules.specification import ContentError

__all__ = ["ContentError", "parse_question", "question_id"]

ITEMS_OF: Final = {"choice": "rows", "order": "steps", "judge": "readings"}
NEVER_BOTH: Final = (*ITEMS_OF, "spot")
BOUNDS: Final = ("at_least", "at_most", "above", "below", "equals", "not_equals")
_SLUG: Final = re.compile(r"[a-z][a-z0-9]*(?:[-_][a-z0-9]+)*")
_ID: Final = re.compile(r"[a-z][a-z0-9_]*")
_PATH: Final = re.compile(r"([^/]+)/questions/([^/]+)\.toml$")
_NAMES_ARE: Final = "write small letters, digits and _, beginning with a letter"


def question_id(path: str) -> str:
    """Give MODULE/QUESTION for `…/MODULE/questions/QUESTION.toml`; the bare stem for any other path."""
    match = _PATH.search(path.replace("\\", "/"))
    return f"{match[1]}/{match[2]}" if match else path.replace("\\", "/").rsplit("/", 1)[-1].removesuffix(".toml")


def parse_question(text: str, path: str) -> Question:
    """Read one question file.

    Raises:
        ContentError: Every problem found, each with file, line, id and how to mend it.
    """
    reader = Reader(text, path)
    root = reader.root
    kind = root.text("kind", required=True, words=KINDS)
    reader.stop_on_problems()
    use = root.text("use", required=True, words=USES)
    if use == "both" and kind in NEVER_BOTH:
        root.problem("E215", "use", f'a question of kind "{kind}" is never "both"; write "practice" or "exam"')
    answer = root.table("answer", required=kind in ("measure", "count"))
    question = Question(
        id=question_id(path),
        path=path,
        digest=hashlib.sha256(text.encode()).hexdigest(),
        lines=reader.lines,
        kind=kind,
        topic=_slug(root, "topic"),
        use=use,
        state=root.text("state", words=STATES, default="in use"),
        critical=root.flag("critical", False),
        danger=root.both("danger", required=True),
        part=root.text("part") or None,
        drawing=_drawing(root, "drawing"),
        after_drawing=_drawing(root, "after_drawing"),
        photo=_slug(root, "photo", required=False),
        parameters=_parameters(root.table("parameters")),
        values=_values(root.table("values")),
        constraints=tuple(_constraint(item) for item in root.tables("constraints")),
        answer=_source(answer) if "answer" in root else None,
        within=answer.operand("within", required=kind == "measure"),
        nearest=answer.operand("nearest"),
        mistakes=_mistakes(root.table("mistakes")),
        show=root.whole("show", least=3, most=12) or None if kind in ITEMS_OF else None,
        right=_right(root) if kind == "choice" else (1, 1),
        rows=_rows(root, "steps" if kind == "order" else "rows") if kind in ("choice", "order") else (),
        pairs=tuple(_pair(item) for item in root.tables("pairs")) if kind == "order" else (),
        readings=tuple(_reading(item) for item in root.tables("readings")) if kind == "judge" else (),
        targets=tuple(_target(item) for item in root.tables("targets")) if kind == "spot" else (),
        sound=_sound(root, kind),
        show_limits=root.flag("show_limits", True) if kind in ("judge", "spot") else True,
        texts=_texts(root, kind),
    )
    answer.close()
    root.close()
    reader.stop_on_problems()
    problems = references.problems_of(question)
    if problems:
        raise ContentError(sorted(problems, key=lambda problem: problem.line))
    return question


def _slug(table: Table, key: str, *, required: bool = True) -> str:
    value = table.text(key, required=required)
    if value and not _SLUG.fullmatch(value):
        table.problem(WRONG, key, f'"{table.name(key)}" is "{value}"; write a word such as "layout" or "take-off"')
    return value


def _id(table: Table, key: str = "id") -> str:
    value = table.text(key, required=True)
    if value and not _ID.fullmatch(value):
        table.problem(WRONG, key, f'"{table.name(key)}" is "{value}"; {_NAMES_ARE}')
    return value


def _sound(root: Table, kind: str) -> Fraction:
    """Read the share of cases without a fault: a judge always has some, a spot only where the file says so."""
    if kind not in ("judge", "spot"):
        return Fraction(0)
    text = root.text("sound", default="1/3" if kind == "judge" else "0")
    most = Fraction(4, 5) if kind == "judge" else Fraction(1, 2)
    if kind == "spot" and text == "0":
        return Fraction(0)
    if re.fullmatch(r"\d{1,2}/\d{1,2}", text) and not text.endswith("/0"):
        share = Fraction(text)
        if Fraction(1, 5) <= share <= most:
            return share
    none = '"0" or ' if kind == "spot" else ""
    root.problem(WRONG, "sound", f'"sound" is "{text}"; write {none}a fraction from "1/5" to "{most}"')
    return Fraction(1, 3)


def _drawing(root: Table, key: str) -> DrawingCall | None:
    if key not in root:
        return None
    if isinstance(root.data[key], str):
        return DrawingCall(root.text(key, required=True), {})
    table = root.table(key)
    name = table.text("name", required=True)
    inner = table.table("inputs")
    inputs = {item: inner.operand(item, required=True) or "" for item in inner}
    for item in table:
        if item not in ("name", "inputs"):
            inputs[item] = table.operand(item, required=True) or ""
    return DrawingCall(name, inputs)


def _names(table: Table) -> list[str]:
    """Give a table's keys; a key that can't be a name is a problem."""
    for key in table:
        if not _ID.fullmatch(key):
            table.problem(WRONG, key, f'"{table.name(key)}" can\'t be a name; {_NAMES_ARE}')
    return list(table)


def _parameters(table: Table) -> tuple[Parameter, ...]:
    found = []
    for name in _names(table):
        item = table.table(name)
        metric = _grid(item.table("metric")) if "metric" in item else None
        found.append(Parameter(name, _grid(item, close=False), metric, item.text("dimension") or None))
        item.close()
    return tuple(found)


def _grid(table: Table, *, close: bool = True) -> Grid:
    if "values" in table:
        grid = Grid(values=table.texts("values"))
        if not grid.values:
            table.problem(WRONG, "values", f'"{table.name("values")}" is empty; write a list such as ["6 in", "8 in"]')
    else:
        first = table.operand("from", required=True) or ""
        grid = Grid(first, table.operand("to", required=True) or "", table.operand("step") or "")
    if close:
        table.close()
    return grid


def _values(table: Table) -> tuple[tuple[str, Source], ...]:
    found = []
    for name in _names(table):
        item = table.table(name)
        source = _source(item)
        if source is not None:
            found.append((name, source))
        item.close()
    return tuple(found)


def _source(table: Table, *, required: bool = True) -> Source | None:
    """Read where a number comes from; the caller closes the table."""
    rule, value = table.text("rule") or None, table.text("value") or None
    expression = table.text("expression") or None
    inputs = table.table("inputs")
    given = {name: inputs.operand(name, required=True) or "" for name in inputs}
    source = Source(rule, given, table.operand("item"), expression, value, table.text("dimension") or None)
    count = sum(one is not None for one in (rule, expression, value))
    if count == 1:
        return source
    if count or required:
        table.problem(MISSING, "", f'"{table.name()}" needs one of rule, expression, value; it has {count or "none"}')
    return source if count else None


def _mistakes(table: Table) -> tuple[Mistake, ...]:
    found = []
    for name in _names(table):
        item = table.table(name)
        changes = item.table("changed")
        changed = {key: changes.operand(key, required=True) or "" for key in changes}
        source = _source(item, required=not changed)
        if changed and source is not None:
            item.problem(WRONG, "changed", f'"{item.name()}" has both changed and another working; keep one')
        item.close()
        found.append(Mistake(name, None if changed else source, changed))
    return tuple(found)


def _constraint(table: Table) -> Constraint:
    condition, mistake = table.text("condition") or None, table.text("mistake") or None
    source = _source(table, required=not (condition or mistake))
    bounds = {word: table.operand(word) or "" for word in BOUNDS if word in table}
    for word in BOUNDS:
        table.take(word, False, "")
    table.close()
    if source is not None and not bounds:
        table.problem(MISSING, "", f'"{table.name()}" bounds nothing; add one of {", ".join(BOUNDS)}')
    if source is None and bounds:
        table.problem(MISSING, "", f'"{table.name()}" has a bound but no rule, expression or value to bound')
    return Constraint(condition, mistake, source, bounds)


def _right(root: Table) -> tuple[int, int]:
    value = root.data.get("right", 1)
    if not isinstance(value, dict):
        count = root.whole("right", least=1, most=6, default=1)
        return count, count
    table = root.table("right")
    least = table.whole("least", required=True, least=1, most=6, default=1)
    most = table.whole("most", required=True, least=1, most=6, default=1)
    table.close()
    if most < least:
        root.problem(WRONG, "right", f"the most right rows ({most}) are fewer than the least ({least}); swap them")
    return least, most


def _rows(root: Table, key: str) -> tuple[Row, ...]:
    found = []
    for table in root.tables(key):
        right = table.condition("right", True) if key == "rows" else True
        if key == "rows" and "right" not in table:
            table.problem(
                MISSING,
                "",
                f'"{table.name()}" does not say if it is right; add right = true, false or a condition',
            )
        found.append(Row(_id(table), right, table.condition("when", True)))
        table.close()
    return tuple(found)


def _pair(table: Table) -> Pair:
    pair = Pair(_id(table, "before"), _id(table, "after"), table.both("why") or None)
    table.close()
    return pair


def _reading(table: Table) -> Reading:
    reading = Reading(
        id=_id(table),
        limit=table.text("limit", required=True),
        good=_grid(table.table("good", required=True)),
        bad=_grid(table.table("bad", required=True)),
        near=table.flag("near", False),
    )
    table.close()
    return reading


def _target(table: Table) -> Target:
    one = _id(table)
    planted = table.table("fault")
    fault = {name: planted.operand(name, required=True) or "" for name in planted}
    if "fault" in table and not fault:
        table.problem(MISSING, "fault", f'"{table.name("fault")}" plants nothing; write such as {{ omit = "bead" }}')
    named = table.text("input")
    if named and fault:
        table.problem(WRONG, "input", f'"{table.name()}" has both fault and input; keep one')
    limit = table.text("limit", required=bool(named))
    grids = {key: _grid(table.table(key, required=True)) if named else Grid() for key in ("good", "bad")}
    target = Target(one, table.text("part") or one, fault, named, limit, **grids)
    table.close()
    return target


def _texts(root: Table, kind: str) -> dict[Language, Texts]:
    table = root.table("text", required=True)
    texts = {language: _language(table.table(language, required=True), kind) for language in LANGUAGES}
    table.close()
    return texts


def _language(table: Table, kind: str) -> Texts:
    after = _template(table, "after")
    texts = Texts(
        stem=_template(table, "stem", required=True) or compile_template(""),
        title=table.text("title"),
        after=after,
        mistakes=_templates(table.table("mistakes")),
        items=_templates(table.table(ITEMS_OF[kind])) if kind in ITEMS_OF else {},
    )
    table.close()
    return texts


def _templates(table: Table) -> dict[str, Template]:
    found = {key: _template(table, key, required=True) for key in table}
    return {key: template for key, template in found.items() if template is not None}


def _template(table: Table, key: str, *, required: bool = False) -> Template | None:
    text = table.text(key, required=required)
    if not text:
        return None
    try:
        return compile_template(text.strip())
    except TemplateError as error:
        table.problem("E209", key, f'"{table.name(key)}": {error}')
        return None
