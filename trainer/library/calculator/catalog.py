"""Which rules the calculator lists, in what order and under which words, and the search among them."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Final
from unicodedata import combining, normalize

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from trainer.library.calculator.filling import fills_for
from trainer.library.presenting import topic_words
from trainer.rules.languages import LANGUAGES
from trainer.rules.registry import REGISTRY, Rule
from trainer.rules.specification import Specification
from trainer.rules.words import label, rule_title

# What a foreman works out on most days; everything else stands behind "more".
FIRST: Final = (
    "laying_allowed",
    "heat_index",
    "squares_opened_and_closed",
    "fall_protection_owed",
    "warning_line_setback",
    "ladder_foot_by_height",
    "ladder_rail_length",
    "course_count",
    "chalk_lines",
    "last_course_width",
    "cap_restart",
    "squaring_diagonal",
    "pieces_in_course",
    "end_lap_marks",
    "net_area",
    "cut_list",
    "rolls_for_roof",
    "nails_along",
    "nails_two_rows",
    "metal_pieces",
    "cartridges",
    "primer_volume",
    "slope_from_fall",
    "patch_size",
)
# What each topic is about, as it would be said on the roof, in the order of a day: whether to start and how nobody gets
# hurt, then the work from the deck up.
ABOUT: Final[dict[str, Promise]] = {
    "weather": _("Dew, heat and cold before you start"),
    "safety": _("Falls, warning lines, ladders, fire"),
    "roof deck": _("Panels, joints and nails under the roof"),
    "layout": _("How many courses, where the lines go, where the cap sheet re-starts"),
    "laps": _("Lengths in a course, laps and how far they stand apart"),
    "take-off": _("What to cut, what to order, what it weighs, what can be closed today"),
    "fastening": _("How many nails, how far apart"),
    "edge metal": _("Pieces, laps, gaps and gauge"),
    "sealant": _("How far a cartridge goes, how much primer"),
    "details": _("Patches, curbs, pipes and flashings"),
    "drainage": _("Slope, fall and standing water"),
    "inspection": _("What a second look can miss"),
}


@dataclass(frozen=True)
class Line:
    """One rule in the list, with the labels of what has to be typed."""

    name: str
    title: str
    typed: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """The rules of one topic."""

    title: str
    about: str
    lines: tuple[Line, ...]


def title_of(name: str, language: str) -> str:
    """Give a rule's title; its name in plain letters while the table of words lacks it."""
    try:
        return rule_title(name, language)
    except KeyError:
        return name.replace("_", " ").capitalize()


def first_groups(specification: Specification | None, language: str) -> list[Group]:
    """Give the rules that a foreman needs on most days, by topic."""
    return _groups((REGISTRY[name] for name in FIRST), specification, language)


def more_groups(specification: Specification | None, language: str) -> list[Group]:
    """Give every other rule, by topic."""
    return _groups((rule for rule in REGISTRY.values() if rule.name not in FIRST), specification, language)


def found_groups(search: str, specification: Specification | None, language: str) -> list[Group]:
    """Give the rules that hold every word searched for, in either language; else all of the topics that do."""
    words = _plain(search).split()
    rules = list(REGISTRY.values())
    found = [rule for rule in rules if all(word in _plain(_rule_words(rule)) for word in words)]
    if not found:
        found = [rule for rule in rules if all(word in _plain(_topic_words(rule)) for word in words)]
    return _groups(found, specification, language)


def _plain(text: str) -> str:
    """Give a text as it is searched: small letters without accents, which a phone makes hard to type."""
    return "".join(letter for letter in normalize("NFKD", text.casefold()) if not combining(letter))


def _rule_words(rule: Rule[..., Any]) -> str:
    names = (rule.gives, *(item.name for item in rule.inputs))
    texts = [rule.name.replace("_", " ")]
    for language in LANGUAGES:
        texts += [title_of(rule.name, language), *(label(name, language) for name in names)]
    return " ".join(texts)


def _topic_words(rule: Rule[..., Any]) -> str:
    topics = (topic_words(rule.topic, language) for language in LANGUAGES)
    return " ".join([_rule_words(rule), *topics, str(ABOUT.get(rule.topic, ""))])


def _groups(rules: Iterable[Rule[..., Any]], specification: Specification | None, language: str) -> list[Group]:
    by_topic: dict[str, list[Rule[..., Any]]] = {}
    for rule in rules:
        by_topic.setdefault(rule.topic, []).append(rule)
    return [
        Group(
            topic_words(topic, language),
            str(ABOUT.get(topic, "")),
            tuple(_lines(members, specification, language)),
        )
        for topic, members in sorted(by_topic.items(), key=_place)
    ]


def _place(entry: tuple[str, object]) -> int:
    """Topics stand in the order of work, those without a line above behind them."""
    order = list(ABOUT)
    return order.index(entry[0]) if entry[0] in ABOUT else len(order)


def _lines(rules: Iterable[Rule[..., Any]], specification: Specification | None, language: str) -> Iterator[Line]:
    for rule in rules:
        known = fills_for(rule, {}, specification, rule.part)
        typed = (item.name for item in rule.inputs if item.required and item.name not in known)
        yield Line(rule.name, title_of(rule.name, language), tuple(label(name, language) for name in typed))
