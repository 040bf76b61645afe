"""The drawings by name, and how their inputs are read.

A drawing is a function of a sheet and its inputs; the signature is the declaration, as for a rule. Lengths and
other quantities carry a dimension, words are closed lists (`OneOf`, `SomeOf`), and `FoundAs` names the value of the
specification where that is not simply the input's own name.
"""

from __future__ import annotations

import difflib
import importlib
import inspect
import re
import types
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Annotated, Any, Union, get_args, get_origin, get_type_hints

from trainer.drawings.errors import DrawingInputError
from trainer.drawings.sheet import ALL, Drawing, Sheet
from trainer.rules.dimensions import Dimension

if TYPE_CHECKING:
    from trainer.rules.specification import Specification

LANGUAGES = ("en", "es")
UNITS = ("imperial", "metric")
_TOPICS = (
    "layout",
    "laps",
    "three_laps",
    "stagger",
    "plies",
    "t_joint",
    "edge",
    "nails",
    "metal",
    "bead",
    "deck",
    "tape",
)
_DETAIL_TOPICS = ("wall", "curb", "pipe", "drain", "corner", "scupper", "door", "pocket")
_ROOF_TOPICS = (
    "slope",
    "boards",
    "night",
    "patch",
    "zones",
    "tie_in",
    "cricket",
    "rolling",
    "welded",
    "nailed",
    "pads",
    "expansion",
    "layers",
    "strip",
)
_KEY = re.compile(r"[a-z][a-z0-9-]*\Z")


@dataclass(frozen=True, slots=True)
class OneOf:
    """Marks an input that is one word of a closed list."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SomeOf:
    """Marks an input that is any number of words of a closed list, with commas between them."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FoundAs:
    """Marks an input that is looked up in the specification under a full name, whatever the part."""

    name: str


@dataclass(frozen=True, slots=True)
class DrawingInput:
    """One declared input of a drawing."""

    name: str
    kind: Dimension | OneOf | SomeOf
    required: bool
    default: object
    found_as: str | None

    def read(self, drawing: str, value: object) -> object:
        """Turn what was given (text or a value) into what the drawing works with.

        Raises:
            DrawingInputError: It cannot be read; shows the input and what is expected.
        """
        if value is None and not self.required:
            return None
        if isinstance(self.kind, OneOf):
            if value not in self.kind.words:
                raise DrawingInputError(drawing, self.name, repr(value), "that is not a choice", self._choices())
            return value
        if isinstance(self.kind, SomeOf):
            words = listed(value)
            for text in words:
                if text not in self.kind.words:
                    raise DrawingInputError(drawing, self.name, repr(text), "that is not a choice", self._choices())
            return words
        if isinstance(value, str):
            try:
                return self.kind.parse(value)
            except ValueError as error:
                raise DrawingInputError(
                    drawing, self.name, repr(value), f"it is not a {self.kind.name}", str(error)
                ) from error
        return value

    def _choices(self) -> str:
        words = self.kind.words if isinstance(self.kind, OneOf | SomeOf) else ()
        return f"write {', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else f"write {words[0]}"


@dataclass(frozen=True, slots=True)
class DrawingKind:
    """A drawing that can be made: its name, inputs, the derived numbers it can show, and the function that draws it.

    `parts` are the names of what a reader can point at, in the order of the list beside the drawing.
    """

    name: str
    inputs: tuple[DrawingInput, ...]
    derived: tuple[str, ...]
    doc: str
    function: Callable[..., None]
    parts: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """Every word that `show` and `ask` accept."""
        return (
            ALL,
            *self.derived,
            *(given.name for given in self.inputs if isinstance(given.kind, Dimension)),
        )


_KINDS: dict[str, DrawingKind] = {}


def drawing(*derived: str, parts: tuple[str, ...] = ()) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Register a drawing under its function's name; `derived` are the numbers it works out and can show.

    `parts` is the closed list of parts that it draws with `Sheet.part`; words.toml says what each is called.
    """

    def register(function: Callable[..., None]) -> Callable[..., None]:
        hints = get_type_hints(function, include_extras=True)
        parameters = list(inspect.signature(function).parameters.values())[1:]
        inputs = tuple(_input(parameter, hints[parameter.name]) for parameter in parameters)
        name = function.__name__
        _KINDS[name] = DrawingKind(name, inputs, derived, inspect.getdoc(function) or "", function, parts)
        return function

    return register


def _input(parameter: inspect.Parameter, hint: Any) -> DrawingInput:
    if get_origin(hint) in (Union, types.UnionType):
        hint = next(part for part in get_args(hint) if part is not type(None))
    marks = get_args(hint)[1:] if get_origin(hint) is Annotated else ()
    kind = next(mark for mark in marks if isinstance(mark, Dimension | OneOf | SomeOf))
    found = next((mark.name for mark in marks if isinstance(mark, FoundAs)), None)
    required = parameter.default is inspect.Parameter.empty
    return DrawingInput(parameter.name, kind, required, None if required else parameter.default, found)


def listed(value: object) -> tuple[str, ...]:
    """Read a list of words given as text with commas or spaces between, or as any collection of texts."""
    if value is None:
        return ()
    parts: Iterable[object] = re.split(r"[,;\s]+", value) if isinstance(value, str) else value  # type: ignore[assignment]
    return tuple(str(part) for part in parts if str(part))


@cache
def _all() -> dict[str, DrawingKind]:
    for topic in _TOPICS + _DETAIL_TOPICS + _ROOF_TOPICS:
        importlib.import_module(f"trainer.drawings.{topic}")
    return dict(sorted(_KINDS.items()))


class _Drawings(Mapping[str, DrawingKind]):
    """Every drawing by name, loaded on first use."""

    def __getitem__(self, name: str) -> DrawingKind:
        return _all()[name]

    def __iter__(self) -> Any:
        return iter(_all())

    def __len__(self) -> int:
        return len(_all())


DRAWINGS: Mapping[str, DrawingKind] = _Drawings()


def get_drawing(name: str) -> DrawingKind:
    """Find a drawing by name.

    Raises:
        DrawingInputError: There is none; lists names that are near.
    """
    if name in DRAWINGS:
        return DRAWINGS[name]
    near = difflib.get_close_matches(name, DRAWINGS, n=3) or list(DRAWINGS)
    raise DrawingInputError(name, "name", repr(name), "there is no such drawing", f"write one of {', '.join(near)}")


def draw(
    name: str,
    inputs: Mapping[str, object],
    *,
    units: str = "imperial",
    language: str = "en",
    key: str = "d1",
    show: object = None,
    ask: object = None,
    ring: Iterable[str] = (),
) -> Drawing:
    """Draw to scale, in the reader's language and the specification's units.

    `inputs` are lengths in inches (Fraction or whole numbers) or text in tape notation. `show` lists worked-out
    numbers to print (`all` for every one), `ask` numbers to stand as a question mark; both may be among the inputs
    instead. `key` makes the ids of one page unique. `ring` names parts to draw a ring around.

    Raises:
        DrawingInputError: Unknown drawing, input, language or units, or a measure that cannot be built.
    """
    kind = get_drawing(name)
    given = dict(inputs)
    shown = _named(kind, "show", [*listed(given.pop("show", None)), *listed(show)])
    asked = _named(kind, "ask", [*listed(given.pop("ask", None)), *listed(ask)])
    if language not in LANGUAGES:
        raise DrawingInputError(name, "language", repr(language), "there are no words for it", "write en or es")
    if units not in UNITS:
        raise DrawingInputError(name, "units", repr(units), "no tape has them", "write imperial or metric")
    if not _KEY.match(key):
        raise DrawingInputError(name, "key", repr(key), "it cannot begin an id", "write small letters, digits, hyphens")
    rings = tuple(ring)
    for part in rings:
        if part not in kind.parts:
            known = ", ".join(kind.parts) or "none"
            raise DrawingInputError(name, "ring", repr(part), "this drawing has no such part", f"its parts are {known}")
    sheet = Sheet(name, units=units, language=language, key=key, show=shown, ask=asked, parts=kind.parts)
    kind.function(sheet, **_read(kind, given))
    return sheet.finish(ring=rings)


def _named(kind: DrawingKind, what: str, words: list[str]) -> list[str]:
    for text in words:
        if text not in kind.names:
            raise DrawingInputError(
                kind.name,
                what,
                repr(text),
                "this drawing has no such number",
                f"write one of {', '.join(kind.names)}",
            )
    return words


def _read(kind: DrawingKind, given: Mapping[str, object]) -> dict[str, object]:
    known = {declared.name: declared for declared in kind.inputs}
    for name, value in given.items():
        if name not in known:
            raise DrawingInputError(
                kind.name,
                name,
                repr(value),
                "this drawing has no such input",
                f"its inputs are {', '.join(known)}",
            )
    read: dict[str, object] = {}
    for declared in kind.inputs:
        if declared.name in given:
            read[declared.name] = declared.read(kind.name, given[declared.name])
        elif declared.required:
            raise DrawingInputError(
                kind.name,
                declared.name,
                "missing",
                "this drawing needs it",
                "give it or a specification that has it",
            )
    return read


def drawing_inputs(
    name: str,
    given: Mapping[str, object],
    specification: Specification | None = None,
    part: str | None = None,
) -> dict[str, object]:
    """Fill a drawing's inputs that are not given from the specification: its full name, then `part.name`, then `name`.

    Inputs that neither gives are left out, so that the drawing's own default stands or its error names them.
    """
    filled = dict(given)
    if specification is None:
        return filled
    for declared in get_drawing(name).inputs:
        if declared.name in filled:
            continue
        if isinstance(declared.kind, OneOf) and part in declared.kind.words:
            filled[declared.name] = part
        if not isinstance(declared.kind, Dimension):
            continue
        found = _lookup(specification, declared, part)
        if found is not None:
            filled[declared.name] = found
    return filled


def _lookup(specification: Specification, declared: DrawingInput, part: str | None) -> object | None:
    # The part's own value first, then where the drawing says it is found, then wherever the specification has just one;
    # a lap or roll named without a part is the base sheet's.
    names = [f"{part}.{declared.name}"] if part else []
    names += [declared.found_as] if declared.found_as else [declared.name, f"base.{declared.name}"]
    for name in names:
        try:
            found = specification.lookup(name)
        except LookupError:
            continue
        bounds: tuple[object, ...] = (found.value, found.least, found.most)
        return next(bound for bound in bounds if bound is not None)
    return None
