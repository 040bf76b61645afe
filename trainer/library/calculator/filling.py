"""The inputs that need no typing: what the specification, or the rule's own source, gives them, and how it is said."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from django.utils.translation import gettext

from trainer.library.presenting import LIMITS, source_text
from trainer.rules.dimensions import DISTANCE, LENGTH, LENGTHS, SHARE, Dimension
from trainer.rules.lengths import decimal_text, length_text
from trainer.rules.registry import REGISTRY, Input, Rule, RuleInputError, resolve_inputs
from trainer.rules.specification import Specification, Value

SHEETS: Final = ("base", "cap")  # parts of a specification that the same rules ask about


@dataclass(frozen=True)
class Fill:
    """What an input is when nobody types it.

    Attributes:
        value: in the unit of the input's dimension.
        specified: the specification's value, where it is one.
        worked: whether a rule of the input's name worked it out from the specification.
    """

    value: Any
    specified: Value | None = None
    worked: bool = False


def fills_for(
    rule: Rule[..., Any], given: Mapping[str, Any], specification: Specification | None, part: str | None
) -> dict[str, Fill]:
    """Give what each input is when nobody types it, as `resolve_inputs` fills them; others are left out.

    A default of 0 fills nothing in: the field may stay empty.
    """
    return {item.name: fill for item in rule.inputs if (fill := _fill(item, given, specification, part)) is not None}


def _fill(item: Input, given: Mapping[str, Any], specification: Specification | None, part: str | None) -> Fill | None:
    if specification is not None:
        found = specification.give(item.name, part)
        if found is not None:
            return Fill(found, specification.lookup(item.name, part))
        worked = _worked(item.name, given, specification) if item.required else None
        if worked is not None:
            return Fill(worked, worked=True)
    return Fill(item.default) if item.default and not item.required else None


def _worked(name: str, given: Mapping[str, Any], specification: Specification) -> Any:
    maker = REGISTRY.get(name)
    if maker is None:
        return None
    known = {item.name: given[item.name] for item in maker.inputs if item.name in given}
    try:
        return maker.work(**resolve_inputs(maker, known, specification)).value
    except RuleInputError:
        return None


def sheets_for(rule: Rule[..., Any], specification: Specification | None) -> tuple[str, ...]:
    """Give the sheets that a rule can be worked for: both when the specification says the same things of both."""
    if specification is None or rule.part != "base":
        return ()
    asked = {item.name for item in rule.inputs if f"base.{item.name}" in specification.values}
    worked = any(fill.worked for fill in fills_for(rule, {}, specification, rule.part).values())
    both = asked and not worked and all(f"cap.{name}" in specification.values for name in asked)
    return SHEETS if both else ()


def typed_text(dimension: Dimension, value: Any, units: str, language: str) -> str:
    """Write a value for a field so that reading it back gives exactly the same value."""
    if dimension is LENGTH or dimension is DISTANCE:
        return length_text(value, units=units, language=language, exact=True)
    if dimension is LENGTHS:
        return "; ".join(length_text(entry, units=units, language=language, exact=True) for entry in value)
    text = dimension.text(value, units, language)
    if dimension.parse(text) == value:
        return text
    return f"{decimal_text(value)} {'' if dimension is SHARE else dimension.unit}".strip()


def origin(item: Input, fill: Fill | None, text: str, units: str, language: str, *, same: bool) -> str:
    """Say where an input comes from: `same` when it still is what it was filled with, else what it was.

    `text` is the fill as the field shows it.
    """
    if fill is None:
        return _left_empty(item, units, language)
    if fill.specified is not None:
        value = fill.specified
        said = {"limit": LIMITS[value.limit], "text": text, "source": source_text(value.source)}
        known = gettext("Specification: %(limit)s %(text)s; %(source)s.") if same else gettext(
            "Yours. The specification: %(limit)s %(text)s; %(source)s."
        )  # fmt: skip
        return _with_maker(known % said, value)
    said = {"text": text}
    if fill.worked:
        known = gettext("Worked out from the specification.") if same else gettext(
            "Yours. From the specification it works out to %(text)s."
        )  # fmt: skip
        return known % said
    known = gettext("From the source of this rule.") if same else gettext("Yours. The source of this rule: %(text)s.")
    return known % said


def _with_maker(sentence: str, value: Value) -> str:
    if not value.maker:
        return sentence
    compare = gettext("Compare it with the label or the printed instructions of what is on your roof.")
    return f"{sentence} {compare}"


def _left_empty(item: Input, units: str, language: str) -> str:
    if item.required:
        return ""
    if item.default is None:  # the cap sheet's first course is the only such input
        return gettext("May stay empty: then a whole roll width.")
    text = typed_text(item.dimension, item.default, units, language)
    return gettext("May stay empty: then %(text)s.") % {"text": text}
