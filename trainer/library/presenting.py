"""Puts specifications and cases into words for the pages: rows of text, nothing worked out but by rules and cases."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any, Final

from django.utils.functional import Promise
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from trainer.questions.cases import Case, CaseError, make_case
from trainer.questions.evidence import public_case
from trainer.questions.model import Language, Question
from trainer.rules.dimensions import TEMPERATURE, TEMPERATURE_DIFFERENCE
from trainer.rules.registry import Source
from trainer.rules.specification import ContentError, Specification, Value
from trainer.rules.words import label, topic_title

LIMITS: Final[dict[str, Promise]] = {
    "minimum": _("at least"),
    "maximum": _("at most"),
    "exact": _("exactly"),
    "range": _("between"),
}
PARTS: Final[dict[str, Promise]] = {
    "": _("For every part"),
    "deck": _("Roof deck"),
    "base": _("Base sheet"),
    "cap": _("Cap sheet"),
    "plies": _("Between the two plies"),
    "laps": _("Laps"),
    "edge": _("Edge metal"),
    "sealant": _("Sealant"),
    "primer": _("Primer"),
    "weather": _("Weather"),
    "open": _("Left open"),
}
# Sources that specification files write as plain words, so that they read in both languages.
SOURCES: Final[dict[str, Promise]] = {
    "common practice": _("common practice"),
    "maker's printed instructions (value of the demo)": _("maker's printed instructions (value of the demo)"),
    "label of the roll (value of the demo)": _("label of the roll (value of the demo)"),
    "label of the cartridge (value of the demo)": _("label of the cartridge (value of the demo)"),
}
STATES: Final[dict[str, Promise]] = {
    "draft": _("draft"),
    "in review": _("in review"),
    "in use": _("in use"),
    "retired": _("retired"),
}
KINDS: Final[dict[str, Promise]] = {
    "measure": _("measure"),
    "count": _("count"),
    "choice": _("choice"),
    "order": _("order"),
    "judge": _("judge"),
    "spot": _("spot"),
}
# Topics of questions that no rule's topic has the title for.
TOPICS: Final[dict[str, Promise]] = {
    "metal": _("Edge metal"),
    "sequence": _("Order of work"),
}
USES: Final[dict[str, Promise]] = {
    "practice": _("practice"),
    "exam": _("exam"),
    "both": _("practice and exam"),
}


@dataclass(frozen=True)
class ValueRow:
    """One value of a specification in words."""

    key: str
    label: str
    limit: str
    text: str
    tolerance: str
    source: str
    maker: bool


@dataclass(frozen=True)
class Part:
    """A part of the roof with its values."""

    title: str
    rows: tuple[ValueRow, ...]


@dataclass(frozen=True)
class Difference:
    """A value that two revisions do not share, in words; empty where a revision lacks it."""

    key: str
    label: str
    part: str
    before: str
    after: str


def parts_of(specification: Specification, language: str) -> list[Part]:
    """Give every value of a specification in words, part by part, in the file's order."""
    grouped = groupby(specification.values.values(), key=_part)
    return [
        Part(_part_title(name), tuple(_row(value, specification.units, language) for value in values))
        for name, values in grouped
    ]


def differences(before: Specification, after: Specification, language: str) -> list[Difference]:
    """Give the values in which two revisions differ: limit, tolerance, kind of limit or source."""
    return list(_differences(before, after, language))


def _differences(before: Specification, after: Specification, language: str) -> Iterator[Difference]:
    for key in dict.fromkeys([*before.values, *after.values]):
        old, new = before.values.get(key), after.values.get(key)
        if old == new:
            continue
        known = new or old
        assert known is not None  # noqa: S101  the key came from one of the two
        yield Difference(
            key,
            label(key.split(".")[-1], language),
            _part_title(_part(known)),
            _whole(old, before.units, language),
            _whole(new, after.units, language),
        )


def _part(value: Value) -> str:
    return value.key.rpartition(".")[0]


def _part_title(name: str) -> str:
    return str(PARTS.get(name, name))


def _row(value: Value, units: str, language: str) -> ValueRow:
    return ValueRow(
        key=value.key,
        label=label(value.key.split(".")[-1], language),
        limit=str(LIMITS[value.limit]),
        text=_text(value, units, language),
        tolerance=_tolerance(value, units, language),
        source=source_text(value.source),
        maker=value.maker,
    )


def _text(value: Value, units: str, language: str) -> str:
    if value.limit == "range":
        least, most = (value.dimension.text(bound, units, language) for bound in (value.least, value.most))
        return gettext("%(least)s and %(most)s") % {"least": least, "most": most}
    return value.dimension.text(value.value, units, language)


def _tolerance(value: Value, units: str, language: str) -> str:
    dimension = TEMPERATURE_DIFFERENCE if value.dimension is TEMPERATURE else value.dimension
    return dimension.text(value.tolerance, units, language) if value.tolerance else ""


def _whole(value: Value | None, units: str, language: str) -> str:
    """Write a value so that any difference shows: limit, tolerance and source."""
    if value is None:
        return ""
    tolerance = _tolerance(value, units, language)
    text = f"{LIMITS[value.limit]} {_text(value, units, language)}"
    if tolerance:
        text += gettext(", reading tolerance %(tolerance)s") % {"tolerance": tolerance}
    return f"{text}; {source_text(value.source)}"


def source_text(source: Source) -> str:
    """Write where a value comes from: document, clause, edition, jurisdiction."""
    document = str(SOURCES.get(source.document, source.document))
    return ", ".join(part for part in (document, source.clause, source.edition, source.jurisdiction) if part)


@dataclass(frozen=True)
class Preview:
    """A case with everything that its trainee may not see before answering; or why there is none."""

    case: Case | None
    public: dict[str, Any] | None
    problem: str = ""
    language: str = "en"

    @property
    def answer(self) -> str:
        """The answer in words; for rows, their letters."""
        return self.case.answer.text[self._language] if self.case else ""

    @property
    def within(self) -> str:
        """How near is near enough; empty where only the exact answer is."""
        texts = self.case.answer.within_text if self.case else None
        return texts[self._language] if texts else ""

    @property
    def steps(self) -> list[dict[str, str]]:
        """The worked steps: label, expression with the values filled in, text."""
        return self.case.steps[self._language] if self.case else []

    @property
    def mistakes(self) -> list[dict[str, str]]:
        """Each wrong value with what was done to get it, or each row with why it is wrong."""
        if self.case is None:
            return []
        found = [{"shown": one.shown[self._language], "text": one.text[self._language]} for one in self.case.mistakes]
        rows = [row for row in self.case.rows if row.why is not None and not self.case.mistakes]
        return found + [{"shown": row.letter, "text": (row.why or {}).get(self._language, "")} for row in rows]

    @property
    def pairs(self) -> list[dict[str, str]]:
        """An order's pairs: which letter stands before which, and why."""
        pairs = self.case.pairs if self.case else ()
        return [{"before": one.before, "after": one.after, "why": one.why[self._language]} for one in pairs]

    @property
    def after(self) -> str:
        """What is said with the verdict."""
        return self.case.after[self._language] if self.case else ""

    @property
    def danger(self) -> str:
        """What goes wrong on a roof."""
        return self.case.danger[self._language] if self.case else ""

    @property
    def after_drawing(self) -> Any:
        """The drawing that is shown with the verdict."""
        return self.case.after_drawing[self._language] if self.case and self.case.after_drawing else None

    @property
    def _language(self) -> Language:
        return "es" if self.language == "es" else "en"


def preview(question: Question, specification: Specification, seed: str, language: Language) -> Preview:
    """Make a case for its author to look at; a question that gives none says why instead."""
    try:
        case = make_case(question, specification, seed)
        return Preview(case, public_case(case, language), language=language)
    except (CaseError, ContentError) as error:
        return Preview(None, None, str(error), language)


def topic_words(topic: str, language: str) -> str:
    """Give a topic's title: the rules' own where they have it, else ours, else the topic as it is written."""
    try:
        return topic_title(topic, language)
    except KeyError:
        return str(TOPICS.get(topic, topic))


def title_of(question: Question, language: Language) -> str:
    """Give a question's short name for lists: its title, else the first words of its stem."""
    texts = question.texts[language]
    if texts.title:
        return texts.title
    words = "…".join(texts.stem.pieces).split()
    return " ".join(words[:8]) + ("…" if len(words) > 8 else "")
