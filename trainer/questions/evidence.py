"""A case as a document to keep, the case read back from it, and the part of a case that a trainee may see.

Documents hold texts, whole numbers, truth values, lists and objects only; quantities are exact texts: `294 1/2 in`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from trainer.drawings import Box, Drawing, Part, big_first
from trainer.questions.case import Answer, Case, CaseLimit, CaseMistake, CasePair, CaseRow, Facts, Steps
from trainer.questions.model import LANGUAGES, BothLanguages, Language
from trainer.questions.quantities import stored_text, stored_value
from trainer.rules import DIMENSIONS, Dimension

FORMAT: Final = 1
_TEXTS: Final = ("question", "digest", "kind", "topic", "seed", "specification", "units", "pick")
_SAID: Final = ("title", "danger", "stem", "after")
_FACTS: Final = tuple(name for name in Facts._fields if name != "limits")
_ROW_TEXTS: Final = ("why", "reading", "limit", "tolerance")
Document = dict[str, Any]


@dataclass(frozen=True)
class KeptWords:
    """What a case said and showed when it was written."""

    stem: BothLanguages
    after: BothLanguages
    steps: Mapping[Language, Steps]
    drawing: Mapping[Language, Drawing] | None
    after_drawing: Mapping[Language, Drawing] | None


class EvidenceError(ValueError):
    """A document that is not a case this program can read; says what is missing."""


def case_document(case: Case) -> Document:
    """Write a case whole: both languages, drawings, answer, tolerance, mistakes, rule editions."""
    document: Document = {"format": FORMAT, "critical": case.critical, "show_limits": case.show_limits}
    document |= {name: getattr(case, name) for name in _TEXTS}
    document |= {name: _both(getattr(case, name)) for name in _SAID}
    document["parameters"] = dict(case.parameters)
    document["rule_editions"] = dict(case.rule_editions)
    document["answer"] = _answer(case.answer)
    document["steps"] = {language: [dict(line) for line in case.steps[language]] for language in LANGUAGES}
    document["mistakes"] = [_mistake(mistake) for mistake in case.mistakes]
    document["rows"] = [_row(row) for row in case.rows]
    document["pairs"] = [{"before": p.before, "after": p.after, "why": _both(p.why)} for p in case.pairs]
    document["drawing"], document["after_drawing"] = _drawn(case.drawing), _drawn(case.after_drawing)
    if case.kind == "spot":
        document["limits"] = [{name: _both(said) for name, said in limit._asdict().items()} for limit in case.limits]
        document["parts"] = _parts(case.drawing)
    return document


def _both(said: BothLanguages) -> dict[str, str]:
    return {language: said[language] for language in LANGUAGES}


def _answer(answer: Answer) -> Document:
    document: Document = {"text": _both(answer.text)}
    if answer.dimension is None:
        return document | {"value": list(answer.value)}
    document |= {"dimension": answer.dimension.name, "value": stored_text(answer.value, answer.dimension)}
    if answer.within is not None and answer.within_text is not None:
        document["within"] = stored_text(answer.within, answer.dimension)
        document["within_text"] = _both(answer.within_text)
    if answer.before_rounding is not None:
        document["before_rounding"] = str(answer.before_rounding)
    return document


def _mistake(mistake: CaseMistake) -> Document:
    return {
        "id": mistake.id,
        "dimension": mistake.dimension.name,
        "value": stored_text(mistake.value, mistake.dimension),
        "shown": _both(mistake.shown),
        "text": _both(mistake.text),
    }


def _row(row: CaseRow) -> Document:
    document: Document = {"letter": row.letter, "id": row.id, "right": row.right, "text": _both(row.text)}
    for name in _ROW_TEXTS:
        said = getattr(row, name)
        if said is not None:
            document[name] = _both(said)
    return document


def _drawn(drawing: Mapping[Language, Drawing] | None) -> Document | None:
    if drawing is None:
        return None
    return {language: _one_drawing(drawing[language]) for language in LANGUAGES}


def _one_drawing(drawing: Drawing) -> Document:
    return {"svg": drawing.svg, "alt": drawing.alt, "width": drawing.width, "height": drawing.height}


def _parts(drawing: Mapping[Language, Drawing] | None) -> Document:
    """Write the parts that can be pointed at, each with its boxes as [x, y, width, height]."""
    return {
        language: [
            {"name": part.name, "label": part.label, "boxes": [list(box) for box in part.boxes]}
            for part in (drawing[language].parts if drawing is not None else ())
        ]
        for language in LANGUAGES
    }


def case_from_document(document: Mapping[str, Any]) -> Case:
    """Read a case back; it judges every response as the case that was written did.

    Raises:
        EvidenceError: The document is not whole, or of a newer format.
    """
    if document.get("format") != FORMAT:
        raise EvidenceError(f"this case has format {document.get('format')!r}; this program reads format {FORMAT}")
    try:
        return _case(document)
    except (KeyError, TypeError, ValueError) as error:
        raise EvidenceError(f"this case is not whole: {error!r}; restore it from a copy") from error


def _case(document: Mapping[str, Any]) -> Case:
    facts = Facts(
        **{name: document[name] for name in _FACTS},
        limits=tuple(CaseLimit(**limit) for limit in document.get("limits", [])),
    )
    words = KeptWords(
        stem=document["stem"],
        after=document["after"],
        steps=document["steps"],
        drawing=_drawing_from(document["drawing"], document.get("parts")),
        after_drawing=_drawing_from(document["after_drawing"]),
    )
    return Case(
        facts=facts,
        words=words,
        seed=document["seed"],
        parameters=document["parameters"],
        answer=_answer_from(document["answer"]),
        mistakes=tuple(_mistake_from(entry) for entry in document["mistakes"]),
        rows=tuple(_row_from(entry) for entry in document["rows"]),
        pairs=tuple(CasePair(entry["before"], entry["after"], entry["why"]) for entry in document["pairs"]),
    )


def _answer_from(document: Mapping[str, Any]) -> Answer:
    if "dimension" not in document:
        return Answer(tuple(document["value"]), None, document["text"])
    dimension = DIMENSIONS[document["dimension"]]
    within, before = document.get("within"), document.get("before_rounding")
    return Answer(
        value=stored_value(document["value"], dimension),
        dimension=dimension,
        text=document["text"],
        within=stored_value(within, dimension) if within is not None else None,
        within_text=document.get("within_text"),
        rounded=Fraction(before) if before is not None else None,
    )


def _mistake_from(document: Mapping[str, Any]) -> CaseMistake:
    dimension = DIMENSIONS[document["dimension"]]
    value = stored_value(document["value"], dimension)
    return CaseMistake(document["id"], value, document["shown"], document["text"], dimension)


def _row_from(document: Mapping[str, Any]) -> CaseRow:
    said = {name: document.get(name) for name in _ROW_TEXTS}
    return CaseRow(document["letter"], document["id"], document["right"], document["text"], **said)


def _drawing_from(
    document: Mapping[Any, Any] | None, parts: Mapping[Any, Any] | None = None
) -> Mapping[Language, Drawing] | None:
    if document is None:
        return None
    return {
        language: Drawing(**document[language], parts=_parts_from(parts[language]) if parts else ())
        for language in LANGUAGES
    }


def _parts_from(entries: list[Mapping[str, Any]]) -> tuple[Part, ...]:
    return tuple(Part(entry["name"], entry["label"], tuple(Box(*box) for box in entry["boxes"])) for entry in entries)


def public_case(case: Case, language: Language) -> Document:
    """Give what a trainee may see before answering: nothing of the answer, the mistakes, the seed or the parameters."""
    dimension = case.answer.dimension
    public: Document = {
        "question": case.question,
        "kind": case.kind,
        "units": case.units,
        "title": case.title[language],
        "stem": case.stem[language],
        "drawing": None,
        "dimension": dimension.name if dimension is not None else "",
        "unit": _unit(dimension, case.units, language),
        "pick": case.pick,
        "rows": [],
        "readings": [],
    }
    if case.answer.within_text is not None:
        public["within"] = case.answer.within_text[language]
    if case.drawing is not None:
        drawing = case.drawing[language]
        public["drawing"] = {"svg": drawing.svg, "alt": drawing.alt}
    if case.kind == "spot":
        public["targets"] = _targets(case, language)
        shown = case.limits if case.show_limits else ()
        public["limits"] = [{name: said[language] for name, said in limit._asdict().items()} for limit in shown]
    if case.kind == "judge":
        public["readings"] = [_public_reading(row, language, shown=case.show_limits) for row in case.rows]
    else:
        public["rows"] = [{"id": row.letter, "letter": row.letter, "text": row.text[language]} for row in case.rows]
    return public


def _targets(case: Case, language: Language) -> list[Document]:
    """Give what a finger hits, in drawing units: every box with its row's letter, the smallest last, so on top."""
    letters = {row.text[language]: row.letter for row in case.rows}
    parts = case.drawing[language].parts if case.drawing is not None else ()
    return [{"letter": letters[part.label], **box._asdict()} for part, box in big_first(parts) if part.label in letters]


def _unit(dimension: Dimension | None, units: str, language: Language) -> str:
    if dimension is None or not dimension.unit:
        return ""
    unit = dimension.metric if units == "metric" else dimension.unit
    sign = dimension.signs.get(unit, unit)
    if unit == "in":
        return "pulg" if language == "es" else "in"
    return sign if isinstance(sign, str) else sign[language == "es"]


def _public_reading(row: CaseRow, language: Language, *, shown: bool) -> Document:
    def said(text: BothLanguages | None) -> str:
        return "" if text is None else text[language]

    return {
        "number": row.letter,
        "place": row.text[language],
        "reading": said(row.reading),
        "limit": said(row.limit) if shown else "",
        "tolerance": said(row.tolerance) if shown else "",
    }
