"""Rules: pure functions from inputs with units to a value and the steps that lead to it.

Topic modules, the table of words and the specification parser load on first use, so importing this package is cheap.
"""

from trainer.rules.dimensions import DIMENSIONS, Dimension, dimension
from trainer.rules.lengths import LengthError, exact_text, length_text, parse_length
from trainer.rules.registry import (
    COMMON_PRACTICE,
    DEFINITION,
    REGISTRY,
    Input,
    Rule,
    RuleInputError,
    Source,
    Step,
    UnknownRuleError,
    Working,
    get_rule,
    resolve_inputs,
    rule,
)

__all__ = [
    "COMMON_PRACTICE",
    "DEFINITION",
    "DIMENSIONS",
    "REGISTRY",
    "Dimension",
    "Input",
    "LengthError",
    "Rule",
    "RuleInputError",
    "Source",
    "Step",
    "UnknownRuleError",
    "Working",
    "dimension",
    "exact_text",
    "get_rule",
    "length_text",
    "parse_length",
    "resolve_inputs",
    "rule",
]
