"""The registry of rules: the decorator that makes one, what it returns, and the one error it raises."""

import importlib
import operator
from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from typing import Any, Generic, NamedTuple, ParamSpec, Protocol, TypeVar

from trainer.rules.dimensions import COUNT, FLAG, Dimension
from trainer.rules.words import label

P = ParamSpec("P")
T_co = TypeVar("T_co", covariant=True)

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
    "details",
    "plans",
)


class Source(NamedTuple):
    """Where a rule comes from: a document with its clause and edition, common practice, or a definition."""

    document: str
    clause: str = ""
    edition: str = ""
    jurisdiction: str = ""

    def __str__(self) -> str:
        return ", ".join(part for part in self if part)


COMMON_PRACTICE = Source("common practice")
DEFINITION = Source("definition")


class Step(NamedTuple):
    """One line of a working: what was worked out, to what value, and how; names stand in braces."""

    name: str
    value: Any
    expression: str


class Working(Generic[T_co]):
    """A value and the steps that lead to it.

    Attributes:
        value: the result; the last step shows it.
        steps: the lines of the working, in order.
        inputs: what went in, by name; set by the rule that made this.
        rule: the rule that made this; None for a working made by hand.
    """

    __slots__ = ("_before", "_steps", "inputs", "rule", "value")

    def __init__(
        self,
        value: T_co,
        *steps: tuple[str, Any, str],
        before_rounding: Fraction | tuple[Fraction, Fraction] | None = None,
    ) -> None:
        self.value = value
        self._steps = steps
        self._before = before_rounding
        self.inputs: dict[str, Any] = {}
        self.rule: Rule[..., Any] | None = None

    @property
    def steps(self) -> tuple[Step, ...]:
        """The lines of the working."""
        return tuple(Step(*step) for step in self._steps)

    @property
    def before_rounding(self) -> Any:
        """The value before it was rounded to whole pieces; the value itself where nothing is rounded."""
        if self._before is None:
            return self.value
        return self._before[0] / self._before[1] if isinstance(self._before, tuple) else self._before


class Limit(NamedTuple):
    """A bound on an input: `value` or another input, `plus` a length."""

    name: str
    relation: str
    bound: str | Fraction
    plus: Fraction = Fraction(0)


def above(name: str, bound: str | int) -> Limit:
    """The input must be more than a number or another input."""
    return Limit(name, ">", bound if isinstance(bound, str) else Fraction(bound))


def at_least(name: str, bound: str | int | Fraction, plus: int | Fraction = 0) -> Limit:
    """The input must not be less than a number or another input plus a number."""
    return Limit(name, ">=", bound if isinstance(bound, str) else Fraction(bound), Fraction(plus))


def below(name: str, bound: str | int) -> Limit:
    """The input must be less than a number or another input."""
    return Limit(name, "<", bound if isinstance(bound, str) else Fraction(bound))


def at_most(name: str, bound: str | int | Fraction) -> Limit:
    """The input must not be more than a number or another input."""
    return Limit(name, "<=", bound if isinstance(bound, str) else Fraction(bound))


_RELATIONS: dict[str, tuple[Callable[[Any, Any], Any], str, str]] = {
    ">": (operator.gt, "more than", "más de"),
    ">=": (operator.ge, "at least", "por lo menos"),
    "<": (operator.lt, "less than", "menos de"),
    "<=": (operator.le, "at most", "como máximo"),
}


class RuleInputError(ValueError):
    """An input that a rule can't work with.

    Attributes:
        rule, name: the rule and its input.
        value: what was given, as text.
        limit: what it must be.
        mending: what to do about it.
    """

    def __init__(
        self,
        rule: str,
        name: str,
        value: str,
        limit: str,
        mending: str,
        *,
        spanish: tuple[str, str] | None = None,
    ) -> None:
        self.rule, self.name, self.value, self.limit, self.mending = rule, name, value, limit, mending
        self._spanish = spanish
        super().__init__(f"{rule}: {name} is {value}; it must be {limit}. {mending}")

    def text(self, language: str = "en") -> str:
        """Give one sentence for the reader, with the input's label in the reader's language."""
        if language == "es" and self._spanish:
            limit, mending = self._spanish
            return f"{label(self.name, 'es')}: {self.value}; debe ser {limit}. {mending}"
        return f"{label(self.name, 'en')}: {self.value}; it must be {self.limit}. {self.mending}"


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
            raise self._refused(refusal.limit, inputs, refusal.value) from None
        working.inputs, working.rule = inputs, self
        return working

    def checked(self, given: Mapping[str, object]) -> dict[str, Any]:
        """Turn what was given into values of the inputs' dimensions, within every bound."""
        for name in given:
            if name not in self._by_name:
                near = _near(name, self._by_name, 1)
                raise self._error(
                    name, "given", "an input of this rule", "no es",
                    f"Did you mean {near[0]}?" if near else f"Its inputs are {', '.join(self._by_name)}.",
                )  # fmt: skip
        values = {item.name: self._value(item, given) for item in self.inputs}
        for limit in self.limits:
            if not self._holds(limit, values):
                raise self._refused(limit, values)
        return values

    def _value(self, item: Input, given: Mapping[str, object]) -> Any:
        raw = given.get(item.name)
        blank = isinstance(raw, str) and not raw.strip() and item.dimension.kind is not tuple
        if raw is None or blank:
            if item.required or blank:
                example = item.dimension.example
                raise RuleInputError(
                    self.name, item.name, "missing", "given", f"Give it, such as {item.name}={example!r}.",
                    spanish=("un dato", f"Escríbalo, por ejemplo {example}."),
                )  # fmt: skip
            return item.default
        return self._in_bounds(item, self._coerced(item, raw))

    def _coerced(self, item: Input, raw: object) -> Any:
        dimension = item.dimension
        try:
            return dimension.parse(raw) if isinstance(raw, str) else dimension.coerce(raw)
        except ValueError as error:
            what, que = dimension.spoken
            message = getattr(error, "message", None)
            spanish = message("es") if message else str(error)
            raise RuleInputError(self.name, item.name, str(raw), what, str(error), spanish=(que, spanish)) from None

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
        compare = _RELATIONS[limit.relation][0]
        value = values[limit.name]
        if value is None:
            return True
        bound = values[limit.bound] if isinstance(limit.bound, str) else limit.bound
        return bool(compare(len(value) if isinstance(value, tuple) else value, bound + limit.plus))

    def _refused(self, limit: Limit, values: Mapping[str, Any], value: Any = None) -> RuleInputError:
        item = self._by_name[limit.name]
        shown = values[limit.name] if value is None else value
        kind = COUNT if isinstance(shown, tuple) or value is not None else item.dimension.item
        shown = len(shown) if isinstance(shown, tuple) else shown
        _, english, spanish = _RELATIONS[limit.relation]
        bound_en, bound_es = (self._bound(limit, kind, values, language) for language in ("en", "es"))
        return RuleInputError(
            self.name, limit.name, kind.text(shown), f"{english} {bound_en}", "Measure again, or mend the number.",
            spanish=(f"{spanish} {bound_es}", "Mida otra vez o corrija el número."),
        )  # fmt: skip

    def _bound(self, limit: Limit, kind: Dimension, values: Mapping[str, Any], language: str) -> str:
        if not isinstance(limit.bound, str):
            return kind.text(limit.bound + limit.plus, "imperial", language)
        name = limit.bound if language == "en" else label(limit.bound, "es")
        text = f"{name} ({kind.text(values[limit.bound], 'imperial', language)})"
        return f"{text} + {kind.text(limit.plus, 'imperial', language)}" if limit.plus else text

    def _error(self, name: str, value: str, limit: str, spanish: str, mending: str) -> RuleInputError:
        return RuleInputError(self.name, name, value, limit, mending, spanish=(spanish, mending))


class Refusal(Exception):
    """Raised inside a rule for an input that only the work itself shows to be impossible."""

    def __init__(self, limit: Limit, value: Any = None) -> None:
        self.limit, self.value = limit, value
        super().__init__(limit.name)


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
