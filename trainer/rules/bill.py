"""The bill of materials of a roof by its plan: what the rules say, added up over the rectangles it is divided into.

Every edge of a rectangle is taken as an edge of the roof, its base sheet turned down; where two rectangles meet that
orders a little too much, never too little. Offcuts are used again within a rectangle, not from one to the next.
"""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Any, NamedTuple

from trainer.rules.limits import RuleInputError
from trainer.rules.registry import REGISTRY, Specified, resolve_inputs
from trainer.rules.working import Working


class Deck(NamedTuple):
    """One rectangle of a roof, in inches: up the slope and along the eave."""

    run: Fraction
    eave: Fraction


class Line(NamedTuple):
    """One line of a bill.

    Attributes:
        item: what is ordered, a name of the table of words; its dimension stands there.
        value: how much.
        workings: how it was worked out, one for each rectangle or one for the whole roof.
    """

    item: str
    value: Any
    workings: tuple[Working[Any], ...]


class _Book:
    """Works rules with one specification."""

    def __init__(self, specification: Specified) -> None:
        self.specification = specification

    def work(self, name: str, part: str | None = None, **given: Any) -> Working[Any]:
        """Work a rule; what is not given comes from the specification."""
        rule = REGISTRY[name]
        return rule.work(**resolve_inputs(rule, given, self.specification, part))

    def value(self, name: str) -> Any:
        """Find a value that every bill needs."""
        found = self.specification.give(name)
        if found is None:
            raise _missing(name, "Add it to the specification.", "Agréguelo a la especificación.")
        return found


def _missing(name: str, mending: str, spanish: str) -> RuleInputError:
    return RuleInputError(
        "bill_of_materials", name, "missing", "given", mending, spanish=("un dato", spanish), valor="falta"
    )


def bill_of_materials(
    decks: Sequence[Deck], specification: Specified, *, edge: Fraction | None = None
) -> tuple[Line, ...]:
    """List what a roof of two plies with edge metal takes.

    Args:
        decks: the rectangles that the plan is divided into, at least one.
        specification: where sheets, laps, spacings and rates come from.
        edge: the length of the roof's edge in inches, as `plan_edge` gives it; known for one rectangle, to be given for
            more.

    Raises:
        RuleInputError: There is no rectangle, the edge is missing, a measure is impossible, or the specification lacks
            a value; the error names it.
    """
    if not decks:
        raise _missing("run", "Give at least one rectangle.", "Escriba por lo menos un rectángulo.")
    if edge is None and len(decks) > 1:
        raise _missing("edge", "Measure the roof's edge all round.", "Mida el borde del techo en todo el contorno.")
    around = 2 * (decks[0].run + decks[0].eave) if edge is None else edge
    book = _Book(specification)
    return (*_sheets(book, decks), *_edges(book, decks, around), _primer(book, decks, around))


def _sheets(book: _Book, decks: Sequence[Deck]) -> Iterator[Line]:
    past, whole = book.value("base.overhang"), book.value("cap.roll_width")
    base, cap = list[Working[Any]](), list[Working[Any]]()
    for deck in decks:
        courses = book.work("course_count", "base", run=deck.run, top_overhang=past).value
        base.append(book.work("rolls_for_roof", "base", length=deck.eave + 2 * past, courses=courses))
        courses = book.work("course_count", "cap", run=deck.run, overhang=0, starter_width=whole).value
        cap.append(book.work("rolls_for_roof", "cap", length=deck.eave, courses=courses))
    yield _sum("base_rolls", base)
    yield _sum("cap_rolls", cap)


def _edges(book: _Book, decks: Sequence[Deck], around: Fraction) -> Iterator[Line]:
    yield _sum("metal_pieces", [book.work("metal_pieces", edge=around)])
    yield _sum("metal_nails", [book.work("nails_two_rows", edge=around)])
    yield _sum("base_nails", [book.work("nails_along", "base", edge=around)])
    yield _sum("cartridges", [book.work("cartridges", edge=around, beads=1)])
    past = book.value("base.overhang")
    length = sum((deck.eave + 2 * past for deck in decks), Fraction(0))
    strip = book.work(
        "strip_still_needed", edge=around, length=length, starter_rip=book.work("starter_rip", "base").value,
        strip_width=book.value("edge.strip_width.least"),
    )  # fmt: skip
    yield _sum("strip_short", [strip])


def _primer(book: _Book, decks: Iterable[Deck], around: Fraction) -> Line:
    areas = [book.work("net_area", run=deck.run, eave=deck.eave) for deck in decks]
    flange = book.work("flange_area", edge=around)
    primer = book.work("primer_volume", area=sum((area.value for area in areas), Fraction(0)) + flange.value)
    return Line("primer_volume", primer.value, (*areas, flange, primer))


def _sum(item: str, workings: list[Working[Any]]) -> Line:
    return Line(item, sum(working.value for working in workings), tuple(workings))
