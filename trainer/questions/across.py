"""Checks that need more than one text: questions alike, one source with two values, hazards without a caution."""

import re
from collections.abc import Collection, Iterator, Sequence
from itertools import combinations
from typing import Final, NamedTuple

from trainer.questions.model import Language, Question
from trainer.questions.wording import texts_of
from trainer.rules.specification import Problem, Specification, Value

ALIKE: Final = 0.6
_RUN: Final = 3


# --------------------------------------------------------------------------------------------------- questions alike
def alike_problems(questions: Sequence[Question]) -> Iterator[Problem]:
    """Give pairs of questions that a trainee would take for the same one; numbers and values do not tell them apart.

    Two questions are alike when of all runs of three words that either has in its stem and rows, 60 % stand in both.
    """
    runs = {question.id: _runs(question) for question in questions}
    for one, other in combinations(questions, 2):
        mine, others = runs[one.id], runs[other.id]
        if not mine or not others or min(len(mine), len(others)) < ALIKE * max(len(mine), len(others)):
            continue
        shared = len(mine & others)
        if shared >= ALIKE * (len(mine) + len(others) - shared):
            message = f"it reads like {one.id}; ask for something else, tell another scene, or retire one of the two"
            yield other.problem("E257", ("text", "en", "stem"), message)


def _runs(question: Question) -> frozenset[tuple[str, ...]]:
    words: list[str] = []
    for path, text in texts_of(question, "en").items():
        if path[0] in ("stem", "rows", "steps", "readings"):
            words += re.findall(r"[^\W\d_]+", " … ".join(text.pieces).lower())
    return frozenset(tuple(words[at : at + _RUN]) for at in range(len(words) - _RUN + 1))


# ------------------------------------------------------------------------------------------------ sources of a value
def source_problems(specifications: Collection[tuple[str, Specification]]) -> Iterator[Problem]:
    """Give values that cite the same clause of a document for different limits; takes (path, specification) pairs.

    What common practice, a label or a maker says may differ from sheet to sheet; a published clause says one thing.
    """
    seen: dict[tuple[str, str, str, str], tuple[str, Value]] = {}
    for path, specification in specifications:
        for value in specification.values.values():
            source = value.source
            if value.maker or not source.clause:
                continue
            key = (value.key.rpartition(".")[2], source.document, source.clause, source.edition)
            where, other = seen.setdefault(key, (path, value))
            if (other.value, other.least, other.most) != (value.value, value.least, value.most):
                message = (
                    f"{value.key} is {_said(value)} after {source.document}, {source.clause}; "
                    f"{other.key} in {where} is {_said(other)} after the same clause; read it again and mend one"
                )
                yield Problem(path, 1, "content.E258", message)


def _said(value: Value) -> str:
    bounds = (value.least, value.most) if value.value is None else (value.value,)
    return " to ".join(value.dimension.text(bound) for bound in bounds)


# ---------------------------------------------------------------------------------------------------------- cautions
class _Hazard(NamedTuple):
    """What a lesson speaks of, and what its caution must then speak of; word beginnings."""

    name: str
    spoken: dict[Language, str]
    owed: dict[Language, str]


_HAZARDS: Final = (
    _Hazard("falls", {"en": r"edges?|eaves?|rakes?", "es": r"bordes?|aleros?|orillas? del techo"},
            {"en": "fall", "es": "caída|caer"}),
    _Hazard("ladders", {"en": "ladders?", "es": "escaleras?"}, {"en": "ladder", "es": "escalera"}),
    _Hazard("holes", {"en": "skylights?|holes? in the (?:roof )?deck", "es": "tragaluz|tragaluces|domos?"},
            {"en": "hole|skylight", "es": "hoyo|hueco|agujero|abertura|tragalu|domo"}),
    _Hazard("flame", {"en": "torch(?:es)?|flames?|open fire", "es": "sopletes?|antorchas?|llamas?"},
            {"en": "flame|torch|fire|hot work|hot-work", "es": "llama|soplete|fuego|incendio|caliente"}),
    _Hazard("vapors", {"en": "primers?|solvents?", "es": "imprimador(?:es)?|solventes?"},
            {"en": "vapor|fresh air|label|ventilat", "es": "vapor|aire|etiqueta|ventila"}),
    _Hazard("cuts", {"en": "knife|knives", "es": "navajas?|cuchillos?"},
            {"en": "cut|blade|glove", "es": "cort|filo|guante"}),
)  # fmt: skip
_DEFERS: Final[dict[Language, str]] = {"en": r"local code", "es": r"códigos? local|códigos? del lugar|normas? local"}


def caution_problems(text: str, path: str, language: Language) -> Iterator[Problem]:
    """Give the hazards that a lesson speaks of and its caution blocks do not, and a lesson without such a block."""
    cautions, body = _cautions(text)
    if not cautions.strip():
        message = "the lesson has no caution; add a block !!! caution with what can hurt people at this work"
        yield Problem(path, 1, "content.E259", message)
        return
    for hazard in _HAZARDS:
        spoken = re.search(rf"(?<!\w)(?:{hazard.spoken[language]})(?!\w)", body, re.IGNORECASE)
        if spoken and not re.search(hazard.owed[language], cautions, re.IGNORECASE):
            line = body[: spoken.start()].count("\n") + 1
            message = f'the lesson speaks of "{spoken[0]}", its caution says nothing of {hazard.name}; add a line to it'
            yield Problem(path, line, "content.E259", message)
    if not re.search(_DEFERS[language], cautions, re.IGNORECASE):
        message = "the caution does not say that local codes come first; add the sentence"
        yield Problem(path, 1, "content.E259", message)


def _cautions(text: str) -> tuple[str, str]:
    """Part a lesson into its caution blocks and the rest; lines of the other part are left blank."""
    cautions, rest, inside = list[str](), list[str](), False
    for line in text.splitlines():
        if line.startswith("!!!"):
            inside = line.split()[1:2] == ["caution"]
        elif line.strip() and not line.startswith((" ", "\t")):
            inside = False
        cautions.append(line if inside else "")
        rest.append("" if inside else line)
    return "\n".join(cautions), "\n".join(rest)
