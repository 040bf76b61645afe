"""What the calculator's two pages show: the specification in force fetched, the rest worked out from it."""

from collections.abc import Mapping
from contextlib import suppress
from typing import Any, Final
from urllib.parse import urlencode

from django.core.exceptions import ValidationError
from django.utils.text import capfirst
from django.utils.translation import get_language, gettext

from trainer.library import queries
from trainer.library.calculator import catalog
from trainer.library.calculator.answer import answer_of
from trainer.library.calculator.cautions import cautions_for
from trainer.library.calculator.filling import Fill, fills_for, origin, sheets_for, typed_text
from trainer.library.calculator.forms import TAPE, CalculatorForm, example_of
from trainer.library.calculator.notes import NOTES
from trainer.library.calculator.sources import source_facts
from trainer.library.presenting import PARTS, topic_words
from trainer.library.queries import Adopted
from trainer.people.access import Member
from trainer.rules.dimensions import COUNT, FLAG, LENGTHS
from trainer.rules.registry import Rule
from trainer.rules.specification import Specification
from trainer.rules.words import giver, label

SPECIFICATION: Final = "specification"  # keys of the address beside the inputs
SHEET: Final = "sheet"


def page_language() -> str:
    """Give `en` or `es`: the language that the page is written in."""
    return "es" if (get_language() or "en").startswith("es") else "en"


def adopted_by(member: Member) -> dict[str, Adopted]:
    """Give the revisions that the member's company installs to today, by name, in a bounded number of queries."""
    rows = queries.in_force_by_name(member.company, on=member.today)
    values = queries.specifications_of(adoption.revision for adoption in rows.values())
    return {name: Adopted(rows[name].revision, values[rows[name].revision.pk]) for name in sorted(rows)}


def list_for(member: Member, search: str) -> dict[str, Any]:
    """Give the list of rules: those of most days and the others, or what was searched for."""
    language = page_language()
    in_use = next(iter(adopted_by(member).values()), None)
    specification = in_use.specification if in_use else None
    more = [] if search else catalog.more_groups(specification, language)
    return {
        "search": search,
        "found": catalog.found_groups(search, specification, language) if search else [],
        "first": [] if search else catalog.first_groups(specification, language),
        "more": more,
        "more_count": sum(len(group.lines) for group in more),
        "adopted": in_use,
        "specification_title": specification.title[language] if specification else "",
    }


def sheet_for(member: Member, rule: Rule[..., Any], query: Mapping[str, str]) -> dict[str, Any]:
    """Give one rule's page: its form filled in and, once every input is there, the answer."""
    language, adopted = page_language(), adopted_by(member)
    chosen = query.get(SPECIFICATION, "")
    in_use = adopted.get(chosen) or next(iter(adopted.values()), None)
    specification = in_use.specification if in_use else None
    sheets = sheets_for(rule, specification)
    sheet = query.get(SHEET, "")
    part = sheet if sheet in sheets else rule.part
    desk = _Desk(rule, specification, part, language)
    form = desk.form(query)
    typed = desk.typed(form)
    kept = {SPECIFICATION: chosen} if chosen in adopted and len(adopted) > 1 else {}
    kept |= {SHEET: sheet} if sheet in sheets else {}
    answer = answer_of(form.working, specification, part, desk.units, language) if form.working else None
    return {
        "rule": rule,
        "title": catalog.title_of(rule.name, language),
        "note": NOTES.get(rule.name, ""),
        "topic": topic_words(rule.topic, language),
        "form": form,
        "kept": kept.items(),
        "answer": answer,
        "link": urlencode({**kept, **desk.carried}) if answer else "",
        "given": desk.given_rows(form) if answer else [],
        "tape": any(item.dimension in TAPE for item in rule.inputs),
        "metric": desk.units == "metric",
        "adopted": in_use,
        "specification_title": specification.title[language] if specification else "",
        "uses_specification": desk.uses_specification,
        "specifications": _choices(adopted, in_use, typed),
        "sheets": _sheets(sheets, part, typed, kept),
        "cautions": cautions_for(rule),
        "source": source_facts(rule),
        "language": language,
    }


class _Desk:
    """One rule on the desk: what fills its inputs, under one specification, for one reader."""

    def __init__(
        self, rule: Rule[..., Any], specification: Specification | None, part: str | None, language: str
    ) -> None:
        self.rule, self.specification, self.part, self.language = rule, specification, part, language
        self.units = specification.units if specification else "imperial"
        self.fills = fills_for(rule, {}, specification, part)
        self.carried: dict[str, str] = {}

    @property
    def uses_specification(self) -> bool:
        """Whether any input comes from the specification."""
        return any(fill.specified or fill.worked for fill in self.fills.values())

    def form(self, query: Mapping[str, str]) -> CalculatorForm:
        """Give the form; it is worked as soon as something was sent, or nothing has to be typed."""
        sent = {item.name: query[item.name].strip() for item in self.rule.inputs if item.name in query}
        filled = {name: self._text(name, fill) for name, fill in self.fills.items()}
        self.carried = {item.name: sent.get(item.name) or filled.get(item.name, "") for item in self.rule.inputs}
        complete = all(item.name in filled for item in self.rule.inputs if item.required)
        asked = {item.name for item in self.rule.inputs if item.required and item.name not in filled}
        form = self._bound(asked, answered=bool(sent) or complete)
        values = self._values(form)
        if followed := self._followed(filled, values):
            self.carried |= followed
            form = self._bound(asked, answered=True)
            values = self._values(form)
        self.fills = fills_for(self.rule, values, self.specification, self.part)
        for item in self.rule.inputs:
            form[item.name].help_text = self._help(item.name, values, form)
        return form

    def _bound(self, asked: set[str], *, answered: bool) -> CalculatorForm:
        """Give the form with what is carried, its errors and its answer worked out where there is something to work."""
        form = CalculatorForm(
            self.carried if answered else None,
            rule=self.rule,
            language=self.language,
            first=asked,
            initial=self.carried,
        )
        form.is_valid()
        return form

    def _values(self, form: CalculatorForm) -> dict[str, Any]:
        """Give each number that can be read, whether the rule can work with it or not."""
        values = {}
        for name, field in form.fields.items():
            with suppress(ValidationError):
                values[name] = field.clean(self.carried[name])
        return {name: value for name, value in values.items() if value is not None}

    def _followed(self, filled: Mapping[str, str], values: Mapping[str, Any]) -> dict[str, str]:
        """Give the inputs that were worked out and left as they were, where another number now makes them otherwise.

        A narrower roll makes a narrower first course, although the field still says what the wider one made.
        """
        fills = fills_for(self.rule, values, self.specification, self.part)
        texts = {name: self._text(name, fill) for name, fill in fills.items() if fill.worked}
        return {
            name: text
            for name, text in texts.items()
            if self.carried[name] == filled.get(name) and text != filled[name]
        }

    def typed(self, form: CalculatorForm) -> dict[str, str]:
        """Give the texts that are not simply what the specification filled in: they move to another choice."""
        cleaned = getattr(form, "cleaned_data", {})
        return {
            name: text
            for name, text in self.carried.items()
            if text and not (name in self.fills and cleaned.get(name) == self.fills[name].value)
            and text != (self._text(name, self.fills[name]) if name in self.fills else "")
        }  # fmt: skip

    def given_rows(self, form: CalculatorForm) -> list[dict[str, str]]:
        """Give every input that was worked with, for the printed sheet: label, text, where it comes from."""
        working = form.working
        inputs = working.inputs if working else {}
        return [
            {
                "label": capfirst(label(item.name, self.language)),
                "text": typed_text(item.dimension, inputs[item.name], self.units, self.language),
                "origin": str(form[item.name].help_text) if item.name in self.fills else "",
            }
            for item in self.rule.inputs
            if inputs.get(item.name) is not None
        ]

    def _text(self, name: str, fill: Fill) -> str:
        dimension = self._item(name).dimension
        if dimension is FLAG:
            return "yes" if fill.value else "no"
        return typed_text(dimension, fill.value, self.units, self.language)

    def _item(self, name: str) -> Any:
        return next(item for item in self.rule.inputs if item.name == name)

    def _help(self, name: str, values: Mapping[str, Any], form: CalculatorForm) -> str:
        item, fill = self._item(name), self.fills.get(name)
        same = fill is not None and (not form.is_bound or values.get(name) == fill.value)
        said = origin(item, fill, self._text(name, fill) if fill else "", self.units, self.language, same=same)
        if fill is None and item.dimension is LENGTHS:
            example = example_of(item, self.language, self.units)
            said = gettext("Several, with semicolons between: %(example)s.") % {"example": example}
        elif fill is None and giver(name) is not None:
            said = f"{giver(name, self.language)} {said}".strip()
        elif fill is None and item.dimension not in (*TAPE, FLAG, COUNT):
            example = gettext("Such as %(example)s.") % {"example": example_of(item, self.language, self.units)}
            said = f"{example} {said}".strip()
        return said


def _choices(adopted: Mapping[str, Adopted], in_use: Adopted | None, typed: Mapping[str, str]) -> list[dict[str, Any]]:
    """Give a link for each specification in force, where there are several, that carries what was typed."""
    if len(adopted) < 2:
        return []
    return [
        {
            "title": one.specification.title[page_language()],
            "query": urlencode({SPECIFICATION: name, **typed}),
            "here": one is in_use,
        }
        for name, one in adopted.items()
    ]


def _sheets(
    sheets: tuple[str, ...], part: str | None, typed: Mapping[str, str], kept: Mapping[str, str]
) -> list[dict[str, Any]]:
    """Give a link for each sheet that the rule can be worked for."""
    return [
        {"title": PARTS[sheet], "query": urlencode({**kept, SHEET: sheet, **typed}), "here": sheet == part}
        for sheet in sheets
    ]
