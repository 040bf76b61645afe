"""Sums and conditions in question files, compiled once and worked out for each case.

An expression holds names, whole numbers, quantities in single quotes and `+ - * /`; a condition adds comparisons and
`and`, `or`, `not`. Python's own reader makes the tree; every node outside that short list is refused, so a question
file can't run anything.
"""

import ast
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any, Final

Scope = Mapping[str, Any]
NAME: Final = re.compile(r"[a-z][a-z0-9_]*(?:\.[a-z][a-z0-9_]*)*")
_ARITHMETIC: Final = (ast.Add, ast.Sub, ast.Mult, ast.Div)
_LOGIC: Final = (ast.Compare, ast.BoolOp, ast.UnaryOp)
_KEPT: Final = (
    ast.Load, ast.And, ast.Or, ast.Not, ast.USub, *_ARITHMETIC, ast.Lt, ast.LtE, ast.Gt, ast.GtE, ast.Eq, ast.NotEq,
)  # fmt: skip


class ExpressionError(ValueError):
    """A text that is not an expression or condition; says what is wrong and what may stand there."""


@dataclass(frozen=True)
class Expression:
    """A compiled text: its `names`, the pairs of names it compares, adds or subtracts, and `work(scope)`, its value."""

    text: str
    names: tuple[str, ...]
    together: tuple[tuple[str, str], ...]
    work: Callable[[Scope], Any]


def compile_expression(text: str, quantity: Callable[[str], object], *, condition: bool = False) -> Expression:
    """Compile a sum, or a condition if asked; `quantity` reads what stands in single quotes.

    Raises:
        ExpressionError: The text doesn't read, or holds something else than is allowed.
    """
    try:
        tree = ast.parse(text.strip(), mode="eval")
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise ExpressionError(f'"{text}" does not read; {_allowed(condition)}') from None
    builder = _Builder(text, quantity, condition)
    try:
        body = builder.visit(tree.body)
    except RecursionError:
        raise ExpressionError(f'"{text}" is nested too deep; {_allowed(condition)}') from None
    if condition and not isinstance(tree.body, _LOGIC):
        raise ExpressionError(f'"{text}" is a sum where a condition is asked for; compare it, such as "lap < side_lap"')
    arguments = ast.arguments([], [ast.arg("scope")], None, [], [], None, [])
    function = ast.fix_missing_locations(ast.Expression(ast.Lambda(arguments, body)))
    code = compile(function, "<question>", "eval")
    work = eval(code, {"__builtins__": {}, "ratio": _ratio, "quoted": builder.quoted})  # noqa: S307 - own tree only
    return Expression(text, tuple(dict.fromkeys(builder.names)), tuple(builder.together), work)


def _allowed(condition: bool) -> str:
    write = "write names, whole numbers, quantities in single quotes and + - * /, such as \"lap + '1/2 in'\""
    return write + (", compared with < <= > >= == !=, joined with and, or, not" if condition else "")


def _ratio(top: Any, bottom: Any) -> Any:
    """Divide exactly: two whole numbers make a fraction, never a rounded one."""
    return Fraction(top) / bottom if isinstance(top, int) else top / bottom


class _Builder(ast.NodeTransformer):
    """Turns names into look-ups in the scope and quotes into constants; refuses every other node."""

    def __init__(self, text: str, quantity: Callable[[str], object], condition: bool) -> None:
        self.text, self.quantity, self.condition = text, quantity, condition
        self.names: list[str] = []
        self.quoted: list[object] = []
        self.together: list[tuple[str, str]] = []

    def visit(self, node: ast.AST) -> Any:
        if isinstance(node, ast.Constant):
            return self._constant(node)
        if isinstance(node, ast.Name | ast.Attribute):
            return self._name(node)
        self._note_together(node)
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Div):
            left, right = self.visit(node.left), self.visit(node.right)
            return ast.Call(ast.Name("ratio", ast.Load()), [left, right], [])
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return self.generic_visit(node)
        if isinstance(node, ast.BinOp) and isinstance(node.op, _ARITHMETIC):
            return self.generic_visit(node)
        if isinstance(node, _KEPT) or (self.condition and isinstance(node, _LOGIC)):
            return self.generic_visit(node)
        raise ExpressionError(f'"{self.text}" holds {type(node).__name__}; {_allowed(self.condition)}')

    def _note_together(self, node: ast.AST) -> None:
        """Keep pairs of plain names that must be of one dimension: compared with, added to or taken from each other."""
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
        elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub):
            sides = [node.left, node.right]
        else:
            return
        for one, other in pairwise(sides):
            if isinstance(one, ast.Name | ast.Attribute) and isinstance(other, ast.Name | ast.Attribute):
                self.together.append((ast.unparse(one), ast.unparse(other)))

    def _constant(self, node: ast.Constant) -> ast.AST:
        if isinstance(node.value, str):
            self.quoted.append(self.quantity(node.value))
            return ast.Subscript(ast.Name("quoted", ast.Load()), ast.Constant(len(self.quoted) - 1), ast.Load())
        if type(node.value) is int:
            return node
        raise ExpressionError(
            f'"{self.text}" holds {node.value!r}; write whole numbers, and quantities in single quotes'
        )

    def _name(self, node: ast.Name | ast.Attribute) -> ast.AST:
        name = ast.unparse(node)
        if not NAME.fullmatch(name):
            raise ExpressionError(f'"{self.text}" holds "{name}"; names are lower case with _, or part.name')
        self.names.append(name)
        return ast.Subscript(ast.Name("scope", ast.Load()), ast.Constant(name), ast.Load())
