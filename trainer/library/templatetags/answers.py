"""The fields of an answer, prepared for the templates: what may be entered, and what was entered before."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final

from django import template
from django.utils.html import format_html_join
from django.utils.safestring import SafeString, mark_safe

from trainer.library.responses import PLACE, places_in

register = template.Library()


def _mark(sixteenths: int) -> dict[str, str]:
    """One mark of the tape: its value, its fraction as printed, and how long its line is (the denominator)."""
    part = Fraction(sixteenths, 16)
    return {"value": str(sixteenths), "text": str(part), "line": str(part.denominator)}


SIXTEENTHS: Final = [_mark(number) for number in range(16)]
INCHES: Final = [str(number) for number in range(12)]


@register.inclusion_tag("library/fields.html")
def answer_fields(
    case: Mapping[str, Any], response: Any = None, problem: str = "", *, locked: bool = False
) -> dict[str, Any]:
    """Show the fields of a case's kind, filled with an earlier response; `locked` fields cannot be changed."""
    given: Mapping[str, Any] = response if isinstance(response, Mapping) else {}
    context: dict[str, Any] = {"case": case, "given": given, "problem": problem, "locked": locked}
    prepare = _PREPARE.get(str(case["kind"]))
    return context | (prepare(case, given) if prepare else {})


def _measure(case: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    is_length = case.get("dimension", "length") == "length"
    return {
        "pad": is_length and case.get("units", "imperial") == "imperial",
        "metric": is_length and case.get("units") == "metric",
        "inches": [{"value": value, "checked": value == given.get("inches", "0")} for value in INCHES],
        "sixteenths": [mark | {"checked": mark["value"] == given.get("sixteenths", "0")} for mark in SIXTEENTHS],
    }


def _choice(case: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    picked = given.get("rows", [])
    rows = [row | {"checked": row["letter"] in picked} for row in case["rows"]]
    return {"rows": rows, "several": case.get("pick") == "many"}


def _order(case: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    places = places_in(given)
    numbers = [str(number + 1) for number in range(len(case["rows"]))]
    rows = [
        row
        | {
            "name": f"{PLACE}{row['id']}",
            "numbers": [{"value": number, "picked": places.get(row["id"]) == number} for number in numbers],
        }
        for row in case["rows"]
    ]
    return {"rows": rows}


def _judge(case: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    readings = [row | {"checked": row["number"] == given.get("reading")} for row in case["readings"]]
    return {"readings": readings, "limits": any(row.get("limit") for row in case["readings"])}


def _spot(case: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    rows = [row | {"checked": row["letter"] == given.get("part")} for row in case["rows"]]
    return {"rows": rows, "limits": case.get("limits", [])}


_PREPARE: Final = {"measure": _measure, "choice": _choice, "order": _order, "judge": _judge, "spot": _spot}


@register.filter
def pointed_at(case: Mapping[str, Any]) -> SafeString:
    """Lay a label over each part of a spot's drawing, so that a tap on the part marks its row without a script.

    The labels are empty: rows are named by the list, which is what is read out.
    """
    labels = format_html_join(
        "",
        '<foreignObject x="{}" y="{}" width="{}" height="{}"><label for="part-{}" data-letter="{}"></label>'
        "</foreignObject>",
        ((one["x"], one["y"], one["width"], one["height"], one["letter"], one["letter"]) for one in case["targets"]),
    )
    svg = drawn(case["drawing"]["svg"])
    return mark_safe(svg.removesuffix("</svg>") + labels + "</svg>")  # noqa: S308  our own drawing and numbers


@register.filter
def drawn(svg: str) -> SafeString:
    """Let a drawing's SVG through unescaped. Only what `trainer.drawings` drew may come here."""
    return mark_safe(svg)  # noqa: S308  our own drawing, never an author's text


@register.filter
def paragraphs(text: str) -> list[str]:
    """Part a plain text at its blank lines."""
    return [part for part in (piece.strip() for piece in text.replace("\r\n", "\n").split("\n\n")) if part]
