"""The registry of rules: the decorator that makes one, what it returns, and the one error it raises."""

import importlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, Generic, NamedTuple, ParamSpec, Protocol

from trainer.rules.dimensions import COUNT, DISTANCE, FLAG, LENGTH, Dimension, QuantityError
from trainer.rules.lengths import LengthError, length_text
from trainer.rules.limits import (
    RELATIONS,
    Limit,
    Refusal,
    RuleInputError,
    above,
    at_least,
    at_most,
    below,
)
from trainer.rules.words import giver, label
from trainer.rules.working import COMMON_PRACTICE, DEFINITION, Source, Step, T_co, Working

__all__ = [
    "COMMON_PRACTICE",
    "DEFINITION",
    "REGISTRY",
    "Input",
    "Limit",
    "Refusal",
    "Rule",
    "RuleInputError",
    "Source",
    "Step",
    "UnknownRuleError",
    "Working",
    "above",
    "at_least",
    "at_most",
    "below",
    "get_rule",
    "resolve_inputs",
    "rule",
]

P = ParamSpec("P")

TOPIC_MODULES = (
    "roof_deck",
    "layout",
    "laps",
    "take_off",
    "fastening",
    "edge_metal",
    "sealant",
    "drainage",
    "weather",
    "inspection",
    "safety",
    "ladders_fire",
    "details",
    "plans",
)


class UnknownRuleError(KeyError):
    """No rule has this name; the message lists near ones."""

    def __str__(self) -> str:
        return str(self.args[0])


def _near(name: str, names: Iterable[str], most: int) -> list[str]:
    import difflib  # noqa: PLC0415 - keeps importing the rules cheap

    return difflib.get_close_matches(name, list(names), most, 0.5)


class Input(NamedTuple):
    """An input of a rule: its name, what it is, whether it must be given, and what it is when it is not."""

    name: str
    dimension: Dimension
    required: bool
    default: Any


class Specified(Protocol):
    """What a rule needs of a specification: a value by name, or None where it has none."""

    def give(self, name: str, part: str | None = None) -> Any:
        """Find a plain value by name for the part."""
        ...


class Rule(Generic[P, T_co]):
    """A rule: call it with inputs that are checked first, or `work` with inputs already checked.

    Attributes:
        name, topic, edition, source, gives: as declared.
        part: the part of a specification its inputs come from when no other is named.
        inputs: what goes in, read from the signature.
        result: the dimension of the value, read from the signature.
        limits: bounds on the inputs beyond those of their dimensions.
        scales: whether multiplying every length multiplies the result as its dimension says (no fixed length inside).
        doc: the docstring.
    """

    def __init__(  # noqa: PLR0917 - the decorator, its only caller, names them all
        self,
        function: Callable[P, Working[T_co]],
        topic: str,
        gives: str,
        source: Source,
        edition: int,
        part: str | None,
        limits: tuple[Limit, ...],
        scales: bool,
    ) -> None:
        self.function, self.topic, self.gives, self.source, self.edition = function, topic, gives, source, edition
        self.part, self.limits, self.scales = part, limits, scales
        self.name = function.__name__
        self.doc = (function.__doc__ or "").strip()
        self.inputs, self.result = _signature(function)
        self._by_name = {item.name: item for item in self.inputs}

    def __repr__(self) -> str:
        return f"<rule {self.name}>"

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> Working[T_co]:
        """Check the inputs, then work.

        Raises:
            RuleInputError: An input is missing, unknown, of the wrong kind, not finite or out of bounds.
        """
        given: dict[str, object] = dict(zip(self._by_name, args, strict=False))
        if len(args) > len(self.inputs):
            raise TypeError(f"{self.name} takes {len(self.inputs)} inputs, {len(args)} were given")
        given.update(kwargs)
        return self.answer(given)

    def answer(self, given: Mapping[str, object]) -> Working[T_co]:
        """Check inputs held in a mapping, then work; what a call does."""
        return self.work(**self.checked(given))

    def work(self, **inputs: Any) -> Working[T_co]:
        """Work with inputs already checked."""
        try:
            working = self.function(**inputs)  # type: ignore[call-arg]
        except Refusal as refusal:
            raise self._refused(refusal.limit, inputs) from None
        working.inputs, working.rule = inputs, self
        return working

    def checked(self, given: Mapping[str, object]) -> dict[str, Any]:
        """Turn what was given into values of the inputs' dimensions, within every bound."""
        for name in given:
            if name not in self._by_name:
                raise self._unknown(name)
        values = {item.name: self._value(item, given) for item in self.inputs}
        for limit in self.limits:
            if not self._holds(limit, values):
                raise self._refused(limit, values)
        return values

    def refusals(self, given: Mapping[str, object]) -> dict[str, RuleInputError]:
        """Check like `checked`, but give the first refusal of every input by its name; empty when all is well."""
        values, refused = dict[str, Any](), dict[str, RuleInputError]()
        for item in self.inputs:
            try:
                values[item.name] = self._value(item, given)
            except RuleInputError as error:
                refused[item.name] = error
        for limit in self.limits:
            known = limit.name in values and (not isinstance(limit.bound, str) or limit.bound in values)
            if known and limit.name not in refused and not self._holds(limit, values):
                refused[limit.name] = self._refused(limit, values)
        return refused

    def _value(self, item: Input, given: Mapping[str, object]) -> Any:
        raw = given.get(item.name)
        blank = isinstance(raw, str) and not raw.strip() and item.dimension.kind is not tuple
        if raw is None or blank:
            if item.required or blank:
                example = item.dimension.example
                ejemplo = item.dimension.text(item.dimension.parse(example), language="es")
                raise RuleInputError(
                    self.name, item.name, "missing", "given",
                    giver(item.name) or f"Give it, such as {item.name}={example!r}.",
                    spanish=("un dato", giver(item.name, "es") or f"Escríbalo, por ejemplo {ejemplo}."), valor="falta",
                )  # fmt: skip
            return item.default
        return self._in_bounds(item, self._coerced(item, raw))

    def _coerced(self, item: Input, raw: object) -> Any:
        dimension = item.dimension
        try:
            return dimension.parse(raw) if isinstance(raw, str) else dimension.coerce(raw)
        except (LengthError, QuantityError) as error:
            what, que = dimension.spoken
            said = error.message(), error.message("es")
            raise RuleInputError(self.name, item.name, str(raw), what, said[0], spanish=(que, said[1])) from None

    def _in_bounds(self, item: Input, value: Any) -> Any:
        dimension = item.dimension
        if dimension.kind is bool:
            return value
        entries = value if dimension.kind is tuple else (value,)
        for entry in entries:
            if dimension.least is not None and entry < dimension.least:
                raise self._refused(at_least(item.name, dimension.least), {item.name: entry})
            if abs(entry) > dimension.most:
                raise self._refused(at_most(item.name, dimension.most), {item.name: entry})
        if dimension.kind is tuple and len(value) > 10_000:
            raise self._refused(at_most(item.name, 10_000), {item.name: value[0]}, len(value))
        return value

    def _holds(self, limit: Limit, values: Mapping[str, Any]) -> bool:
        compare = RELATIONS[limit.relation][0]
        value = values[limit.name]
        bound = values[limit.bound] if isinstance(limit.bound, str) else limit.bound
        if value is None or bound is None:
            return True
        return bool(compare(len(value) if isinstance(value, tuple) else value, bound + limit.plus))

    def _refused(self, limit: Limit, values: Mapping[str, Any], value: Any = None) -> RuleInputError:
        item = self._by_name[limit.name]
        shown = values[limit.name] if value is None else value
        kind = COUNT if isinstance(shown, tuple) or value is not None else item.dimension.item
        shown = len(shown) if isinstance(shown, tuple) else shown
        _, english, spanish = RELATIONS[limit.relation]
        other = limit.bound if isinstance(limit.bound, str) else ""
        named, bound_en, bound_es = (
            self._bound(limit, kind, values, name, language)
            for name, language in ((other, "en"), (label(other, "en"), "en"), (label(other, "es"), "es"))
        )
        return RuleInputError(
            self.name, limit.name, _plain(kind, shown, "en"), f"{english} {named}",
            "Measure again, or mend the number.",
            spoken=f"{english} {bound_en}",
            spanish=(f"{spanish} {bound_es}", "Mida otra vez o corrija el número."),
            valor=_plain(kind, shown, "es"),
        )  # fmt: skip

    def _bound(self, limit: Limit, kind: Dimension, values: Mapping[str, Any], name: str, language: str) -> str:
        if not isinstance(limit.bound, str):
            return _plain(kind, limit.bound + limit.plus, language)
        bound = _plain(kind, values[limit.bound], language)
        text = f"{bound} ({name})" if language == "es" else f"{name} ({bound})"  # the bare label needs no article there
        return f"{text} + {_plain(kind, limit.plus, language)}" if limit.plus else text

    def _unknown(self, name: str) -> RuleInputError:
        near, known = _near(name, self._by_name, 1), ", ".join(self._by_name)
        mending, arreglo = (
            (f"Did you mean {near[0]}?", f"¿Quiso decir {near[0]}?") if near
            else (f"Its inputs are {known}.", f"Sus datos son {known}.")
        )  # fmt: skip
        return RuleInputError(
            self.name, name, "given", "an input of this rule", mending,
            spanish=("un dato de esta regla", arreglo), valor="dado",
        )  # fmt: skip


def _plain(kind: Dimension, value: Any, language: str) -> str:
    """Write a value in a refusal: a length finer than a tape shows, such as 1/64 in, must not read as 0 in."""
    fine = kind in (LENGTH, DISTANCE) and value.denominator <= 64
    return length_text(value, language=language, exact=True) if fine else kind.text(value, "imperial", language)


def _signature(function: Callable[..., Any]) -> tuple[tuple[Input, ...], Dimension]:
    annotations = function.__annotations__
    names = function.__code__.co_varnames[: function.__code__.co_argcount]
    defaults = function.__defaults__ or ()
    first_default = len(names) - len(defaults)
    inputs = tuple(
        Input(name, _dimension(annotations[name]), at < first_default,
              defaults[at - first_default] if at >= first_default else None)
        for at, name in enumerate(names)
    )  # fmt: skip
    return inputs, _dimension(annotations["return"].__args__[0])


def _dimension(annotation: Any) -> Dimension:
    if annotation is int:
        return COUNT
    if annotation is bool:
        return FLAG
    if not hasattr(annotation, "__metadata__"):  # `Length | None`
        annotation = annotation.__args__[0]
    found: Dimension = annotation.__metadata__[0]
    return found


def rule(
    topic: str,
    *,
    gives: str,
    source: Source,
    edition: int = 1,
    part: str | None = None,
    limits: tuple[Limit, ...] = (),
    scales: bool = True,
) -> Callable[[Callable[P, Working[T_co]]], Rule[P, T_co]]:
    """Register a function as a rule; its signature declares inputs and result."""

    def register(function: Callable[P, Working[T_co]]) -> Rule[P, T_co]:
        made = Rule(function, topic, gives, source, edition, part, limits, scales)
        if made.name in _RULES:
            raise TypeError(f"two rules are called {made.name}")
        _RULES[made.name] = made
        return made

    return register


_RULES: dict[str, Rule[..., Any]] = {}


class _Registry(Mapping[str, "Rule[..., Any]"]):
    """Every rule by name; topic modules load when it is first looked into."""

    _loaded = False

    def _load(self) -> dict[str, Rule[..., Any]]:
        if not self._loaded:
            for topic in TOPIC_MODULES:
                importlib.import_module(f"trainer.rules.{topic}")
            self._loaded = True
        return _RULES

    def __getitem__(self, name: str) -> Rule[..., Any]:
        return self._load()[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._load())

    def __len__(self) -> int:
        return len(self._load())


REGISTRY: Mapping[str, Rule[..., Any]] = _Registry()


def get_rule(name: str) -> Rule[..., Any]:
    """Find a rule by name.

    Raises:
        UnknownRuleError: There is none; the message lists near names.
    """
    if name in REGISTRY:
        return REGISTRY[name]
    near = _near(name, REGISTRY, 3)
    hint = f"Did you mean {' or '.join(near)}?" if near else "List them with `manage.py rules`."
    raise UnknownRuleError(f"no rule is called {name!r}. {hint}")


def resolve_inputs(
    rule: Rule[..., Any],
    given: Mapping[str, object],
    specification: Specified | None = None,
    part: str | None = None,
) -> dict[str, Any]:
    """Fill the inputs not given from the specification, then check them all.

    Args:
        rule: the rule to be worked.
        given: values or texts by input name.
        specification: where the others come from: `part.name`, then `name`, then a rule of that name whose own
            inputs are all known; None when there is none.
        part: the part of the specification; by default the rule's own.

    Raises:
        RuleInputError: An input is missing everywhere, or out of bounds.
    """
    filled = dict(given)
    if specification is not None:
        for item in rule.inputs:
            if item.name not in filled:
                found = specification.give(item.name, part or rule.part)
                if found is None and item.required:
                    found = _worked(item.name, given, specification, part)
                if found is not None:
                    filled[item.name] = found
    return rule.checked(filled)


def _worked(name: str, given: Mapping[str, object], specification: Specified, part: str | None) -> Any:
    """Work out an input that a rule of the same name gives, such as the width of the starter; None where none does."""
    maker = REGISTRY.get(name)
    if maker is None:
        return None
    known = {item.name: given[item.name] for item in maker.inputs if item.name in given}
    missing = [item.name for item in maker.inputs if item.name not in known and item.required]
    if any(specification.give(entry, part or maker.part) is None for entry in missing):
        return None
    return maker.work(**resolve_inputs(maker, known, specification, part)).value
