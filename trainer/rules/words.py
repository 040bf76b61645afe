"""What people call each name, in English and Spanish, and the steps of a working written out for them.

The table is `words.toml`; it loads on first use.
"""

import re
from functools import cache
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from trainer.rules.dimensions import DIMENSIONS, Dimension
from trainer.rules.languages import LANGUAGES

if TYPE_CHECKING:
    from trainer.rules.registry import Working

_NAME = re.compile(r"\{(\w+)\}")
_FUNCTION = re.compile(r"\b([a-z]+)\(")
_POWER = re.compile(r"\bpower\(([^();]+); ([^();]+)\)")
_RAISED = ("²", "^")
_CLOSED = ("atan", "ln")  # stand close to what they are worked of, as mathematics writes them


class Word(NamedTuple):
    """A name's dimension, its label in each language, and the specification's other names for it."""

    dimension: Dimension
    labels: dict[str, str]
    also: tuple[str, ...] = ()


@cache
def _table() -> dict[str, Any]:
    import tomllib  # noqa: PLC0415 - keeps importing the rules cheap
    from pathlib import Path  # noqa: PLC0415 - the same

    return tomllib.loads(Path(__file__).with_name("words.toml").read_text(encoding="utf-8"))


@cache
def words() -> dict[str, Word]:
    """Give the whole table of names."""
    return {
        name: Word(
            DIMENSIONS[entry["dimension"]],
            {language: entry[language] for language in LANGUAGES},
            tuple(entry.get("also", ())),
        )
        for name, entry in _table()["names"].items()
    }


def word(name: str) -> Word:
    """Find a name.

    Raises:
        KeyError: The table lacks it.
    """
    table = words()
    if name not in table:
        raise KeyError(f"{name!r} is not in words.toml; add it with its dimension and both labels")
    return table[name]


def label(name: str, language: str = "en") -> str:
    """Give what people call a name; the name with spaces where the table lacks it."""
    found = words().get(name)
    return found.labels[language] if found else name.replace("_", " ")


def rule_title(name: str, language: str = "en") -> str:
    """Give a rule's title.

    Raises:
        KeyError: The table lacks it.
    """
    return str(_table()["rules"][name][language])


def topic_title(name: str, language: str = "en") -> str:
    """Give a topic's title.

    Raises:
        KeyError: The table lacks it.
    """
    return str(_table()["topics"][name][language])


def giver(name: str, language: str = "en") -> str | None:
    """Say who or what gives an input that no example may suggest; None for all others."""
    found = _table()["givers"].get(name)
    return None if found is None else str(found[language])


def value_text(name: str, value: Any, language: str = "en", units: str = "imperial") -> str:
    """Write the value of a name for the reader."""
    return word(name).dimension.text(value, units, language)


LONGEST_LIST: Final = 3  # a longer list stands in an expression by its name


def steps_text(working: "Working[Any]", language: str = "en", units: str = "imperial") -> list[dict[str, Any]]:
    """Write out a working: for every step its name, label, expression with the values filled in, value and text.

    `value` is a number, or a list of numbers, in the unit of the step's dimension.
    """
    values = {name: value for name, value in working.inputs.items() if value is not None}
    lines = []
    for step in working.steps:
        values[step.name] = step.value
        dimension = _step_dimension(working, step.name)
        text = dimension.text(step.value, units, language)
        filled, lone = _filled(working, step.expression, values, language, units), _NAME.fullmatch(step.expression)
        again = filled == text  # it would only say its own value again: say where that is from
        lines.append({
            "name": step.name,
            "label": label(step.name, language),
            "expression": label(lone[1], language) if lone and again else filled,
            "value": dimension.number(step.value),
            "text": text,
        })  # fmt: skip
    return lines


def _step_dimension(working: "Working[Any]", name: str) -> Dimension:
    """A name means the same everywhere, but for the inputs and result of the rule itself, whose signature decides."""
    rule = working.rule
    if rule is not None:
        if name == rule.gives:
            return rule.result
        for item in rule.inputs:
            if item.name == name:
                return item.dimension
    return word(name).dimension


def _filled(working: "Working[Any]", expression: str, values: dict[str, Any], language: str, units: str) -> str:
    def value(match: re.Match[str]) -> str:
        name = match[1]
        if isinstance(values[name], tuple) and len(values[name]) > LONGEST_LIST:
            return label(name, language)  # its own step shows it; written out again it would hide the working
        text = _step_dimension(working, name).text(values[name], units, language)
        raised = match.string.startswith(_RAISED, match.end())
        return f"({text})" if raised and " " in text else text  # 4 ft² would read as square feet

    functions = _table()["functions"]
    plain = _POWER.sub(r"\1^\2", expression.replace(", ", "; "))  # a comma would read as one of thousands
    named = _FUNCTION.sub(lambda match: functions[match[1]][language] + ("(" if match[1] in _CLOSED else " ("), plain)
    return _NAME.sub(value, named)
