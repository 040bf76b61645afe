"""A second way to work out the expression of a step: a small reader of the signs that steps are written in.

It shares nothing with the rules: it reads `{run} ÷ ({roll_width} − {side_lap}) ↑` as a person would.
"""

import math
import operator
import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

_TOKEN = re.compile(r"\s*(\{\w+\}|\d+(?:\.\d+)?|[a-z]+|.)")


def _ceil(value: Fraction) -> Fraction:
    return Fraction(math.ceil(value))


def _floor(value: Fraction) -> Fraction:
    return Fraction(math.floor(value))


class Reader:
    """Works out one expression; `↑` and `↓` round everything to their left within the same parentheses."""

    def __init__(self, expression: str, values: Mapping[str, Any], n: int = 0) -> None:
        self.tokens = [token for token in _TOKEN.findall(expression) if token.strip()]
        self.values, self.n, self.at = values, n, 0

    def result(self) -> Any:
        """Give the value of the whole expression."""
        value = self.rounded()
        if self.at != len(self.tokens):
            raise AssertionError(f"cannot read {self.tokens[self.at :]}")
        return value

    def peek(self) -> str:
        """Give the next token without taking it."""
        return self.tokens[self.at] if self.at < len(self.tokens) else ""

    def take(self, *expected: str) -> str:
        """Take the next token, which must be one of those expected when any are named."""
        token = self.peek()
        if expected and token not in expected:
            raise AssertionError(f"expected {expected}, found {token!r}")
        self.at += 1
        return token

    def rounded(self) -> Any:
        """A sum with its rounding sign."""
        value = self.sum()
        if self.peek() in COMPARED:
            return COMPARED[self.take()](value, self.sum())
        while self.peek() in {"↑", "↓"}:
            value = _ceil(value) if self.take() == "↑" else _floor(value)
        return value

    def sum(self) -> Any:
        """Terms added and taken away."""
        value = self.product()
        while self.peek() in {"+", "−"}:
            value = value + self.product() if self.take() == "+" else value - self.product()
        return value

    def product(self) -> Any:
        """Factors multiplied and divided, left to right."""
        value = self.factor()
        while self.peek() in {"×", "÷"}:
            value = value * self.factor() if self.take() == "×" else value / self.factor()
        return value

    def factor(self) -> Any:
        """A number, name, root, power, function or parentheses."""
        token = self.take()
        if token.startswith("{"):
            value = self.values[token[1:-1]]
        elif token == "(":
            value = self.rounded()
            self.take(")")
        elif token == "√":
            return Fraction(math.sqrt(self.factor()))
        elif token == "π":
            return Fraction(math.pi)
        elif token == "n":
            value = Fraction(self.n)
        elif token == "−":
            return -self.factor()
        elif token.isalpha():
            value = self.function(token)
        else:
            value = Fraction(token)
        if self.peek() == "²":
            self.take()
            value = value**2
        return value

    def function(self, name: str) -> Any:
        """A named function with its arguments."""
        self.take("(")
        arguments = [self.rounded()]
        while self.peek() in {",", ";", "<"}:
            self.take()
            arguments.append(self.rounded())
        self.take(")")
        return FUNCTIONS[name](*arguments)


COMPARED: dict[str, Any] = {"≤": operator.le, "≥": operator.ge, ">": operator.gt}


def _least(*values: Any) -> Any:
    return min(values[0]) if isinstance(values[0], tuple) else min(values)


def _nearest(lines: tuple[Any, ...], others: tuple[Any, ...]) -> tuple[Any, ...]:
    return tuple(min(abs(line - other) for other in others) for line in lines)


def _first(gaps: tuple[Any, ...], limit: Any) -> int:
    return next((number for number, gap in enumerate(gaps, 1) if gap < limit), 0)


def _cut(length: Any, courses: Any, roll: Any, short: Any, lap: Any) -> tuple[Any, ...]:
    pieces: list[Any] = []
    for course in range(int(courses)):
        reach = Fraction(0)
        while reach < length:
            start = reach - lap if reach else reach
            longest = short if course % 2 and not reach else roll
            pieces.append(min(longest, length - start))
            reach = start + pieces[-1]
    return tuple(pieces)


def _rolls(pieces: tuple[Any, ...], roll: Any) -> int:
    bins: list[Any] = []
    for piece in pieces:
        fitting = sorted((left, at) for at, left in enumerate(bins) if left >= piece)
        if fitting:
            bins[fitting[0][1]] -= piece
        else:
            bins.append(roll - piece)
    return len(bins)


def _choose(among: Any, chosen: Any) -> Fraction:
    ways = Fraction(1)
    for number in range(int(chosen)):
        ways = ways * (Fraction(among) - number) / (number + 1)
    return ways


def _hypergeometric(lot: Any, bad: Any, looked: Any, accepted: Any) -> Fraction:
    # seams are drawn one after the other: chances of having found so many bad ones
    chances = {0: Fraction(1)}
    for drawn in range(int(looked)):
        after: dict[int, Fraction] = {}
        for found, chance in chances.items():
            hit = Fraction(int(bad) - found, int(lot) - drawn)
            after[found + 1] = after.get(found + 1, Fraction(0)) + chance * hit
            after[found] = after.get(found, Fraction(0)) + chance * (1 - hit)
        chances = after
    return sum((chance for found, chance in chances.items() if found <= accepted), Fraction(0))


def _binomial(share: Any, looked: Any, accepted: Any) -> Fraction:
    chances = [Fraction(1)]
    for _ in range(int(looked)):
        chances = [a * (1 - share) + b * share for a, b in zip([*chances, 0], [0, *chances], strict=True)]
    return sum(chances[: int(accepted) + 1], Fraction(0))


def _area(across: tuple[Any, ...], up: tuple[Any, ...]) -> Any:
    # a fan of triangles from the first corner
    total = Fraction(0)
    for at in range(1, len(across) - 1):
        first = (across[at] - across[0]) * (up[at + 1] - up[0])
        second = (across[at + 1] - across[0]) * (up[at] - up[0])
        total += (first - second) / 2
    return abs(total)


def _edge(across: tuple[Any, ...], up: tuple[Any, ...]) -> Any:
    corners = list(zip(across, up, strict=True))
    return Fraction(sum(math.dist(corner, corners[at - 1]) for at, corner in enumerate(corners)))


FUNCTIONS: dict[str, Any] = {
    "area": _area, "edge": _edge,
    "atan": lambda value: Fraction(math.degrees(math.atan(value))), "ln": lambda value: Fraction(math.log(value)),
    "choose": _choose,
    "table": {40: Fraction(8), 26: Fraction(3, 4) / 144}.__getitem__,  # the two samples: lot of 40, 26 gauge in lb/in²
    "min": _least, "max": max, "nearest": _nearest, "first": _first, "cut": _cut, "rolls": _rolls,
    "all": lambda *flags: all(flags), "any": lambda *flags: any(flags),
    "power": lambda value, exponent: Fraction(float(value) ** float(exponent)),
    "letter": {40: Fraction(3)}.__getitem__,  # the sample: a lot of 40 has letter D
    "plan": lambda letter, limit: {(3, Fraction(13, 200)): 8}[letter, limit],
    "accepts": lambda letter, limit: {(3, Fraction(13, 200)): 1}[letter, limit],
    "hypergeometric": _hypergeometric, "binomial": _binomial,
    "sum": lambda values: sum(values, Fraction(0)),
}  # fmt: skip


def work_out(expression: str, values: Mapping[str, Any], like: Any) -> Any:
    """Work out an expression; where the step is a list that counts with n, for as many items as the step has."""
    if isinstance(like, tuple) and re.search(r"\bn\b", expression):
        return tuple(Reader(expression, values, n).result() for n in range(len(like)))
    return Reader(expression, values).result()
