"""What a trainee entered: read from a form into a response, and put back into the fields.

A response holds texts and lists of texts only, as `trainer.questions.verdict.judge` takes it; an empty one is a blank.
Nothing here judges: what cannot be read as a number is kept as it was typed, so that the page can show it again.
"""

from collections.abc import Mapping
from typing import Any, Final

from django.http import QueryDict

Response = dict[str, str | list[str]]

PAD: Final = ("feet", "inches", "sixteenths")
LONGEST: Final = 80  # letters kept of one typed answer; no length, count or row takes more
MOST: Final = 40  # rows or steps kept of one answer
PLACE: Final = "place-"


def read_response(kind: str, post: QueryDict) -> Response:
    """Read the fields of `library/answer_fields.html` for a question kind.

    Raises:
        ValueError: The kind is none of measure, count, choice, order, judge, spot.
    """
    readers = {
        "measure": _measure,
        "count": _count,
        "choice": _choice,
        "order": _order,
        "judge": _judge,
        "spot": _spot,
    }
    if kind not in readers:
        raise ValueError(f'question kind "{kind}" has no fields; kinds are {", ".join(readers)}')
    return readers[kind](post)


def _text(post: QueryDict, name: str) -> str:
    return str(post.get(name) or "").replace("\x00", "").strip()[:LONGEST]


def _measure(post: QueryDict) -> Response:
    """Typed notation goes before the pad; a pad with no feet, 0 inches and 0 sixteenths was not touched."""
    typed = _text(post, "text")
    if typed:
        return {"text": typed}
    millimeters = _text(post, "millimeters")
    if millimeters:
        return {"millimeters": millimeters}
    pad = {name: _text(post, name) for name in PAD}
    if not pad["feet"] and pad["inches"] in ("", "0") and pad["sixteenths"] in ("", "0"):
        return {}
    return {name: value or "0" for name, value in pad.items()}


def _count(post: QueryDict) -> Response:
    typed = _text(post, "text")
    return {"text": typed} if typed else {}


def _choice(post: QueryDict) -> Response:
    rows = sorted({str(row)[:LONGEST] for row in post.getlist("rows")[:MOST] if row})
    return {"rows": list(rows)} if rows else {}


def _order(post: QueryDict) -> Response:
    """Give the steps in the order of their numbers; numbers that are missing or double are kept as entered."""
    fields = [name for name in post if name.startswith(PLACE)][:MOST]
    places = {name.removeprefix(PLACE): _text(post, name) for name in fields}
    if not any(places.values()):
        return {}
    if sorted(places.values()) == sorted(str(number + 1) for number in range(len(places))):
        return {"order": sorted(places, key=lambda step: int(places[step]))}
    return {"places": [f"{step}={place}" for step, place in sorted(places.items())]}


def _judge(post: QueryDict) -> Response:
    decision, reading = _text(post, "decision"), _text(post, "reading")
    if decision == "accept":
        return {"decision": "accept"}  # a reading marked before the decision changed fails nothing
    found = {"decision": decision, "reading": reading}
    return {name: value for name, value in found.items() if value}


def _spot(post: QueryDict) -> Response:
    part = _text(post, "part")
    return {"part": part} if part else {}


def places_in(response: Mapping[str, Any]) -> dict[str, str]:
    """Give each step's number as it was entered, from either form of an order's response."""
    if "order" in response:
        return {step: str(number) for number, step in enumerate(response["order"], start=1)}
    return dict(entry.partition("=")[::2] for entry in response.get("places", []))
