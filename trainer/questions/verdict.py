"""Judges a response to a case: `judge(case, response, language)`. Reads only the case, so a stored one judges alike.

Each judge finds out what is right and which mistakes explain the response; the sentences are put together when read.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Final

from trainer.questions.case import Case, CasePair, CaseRow
from trainer.questions.model import Language
from trainer.questions.number_verdict import judge_number
from trainer.questions.phrases import phrase
from trainer.questions.responses import Unreadable
from trainer.questions.targets import NO_FAULT
from trainer.questions.verdicts import ExplainedMistake, Said, Verdict

Response = Mapping[str, str | list[str]]
_SOUND: Final = "accept"
_DECISIONS: Final = (_SOUND, "reject")


def judge(case: Case, response: Response, language: Language = "en") -> Verdict:
    """Judge a response; `language` is the reader's, for the texts only."""
    try:
        return _JUDGES[case.kind](case, response, language) or _blank(case, language)
    except Unreadable as unreadable:
        message = str(unreadable)
        return Verdict(right=False, codes=(), tell=partial(_tell_unread, case, message, language), problem=message)


def _blank(case: Case, language: Language) -> Verdict:
    return Verdict(right=False, codes=(), tell=partial(_tell_blank, case, language), blank=True)


def _tell_blank(case: Case, language: Language) -> Said:
    answer = case.answer.text[language]
    return Said(phrase("blank", language, answer=answer), (), "", answer)


def _tell_unread(case: Case, message: str, language: Language) -> Said:
    return Said(message, (), "", case.answer.text[language])


def _texts(response: Response, key: str) -> list[str]:
    value = response.get(key, [])
    found = [value] if isinstance(value, str) else list(value)
    return [text.strip() for text in found if text.strip()]


def _picked(case: Case, texts: Sequence[str], language: Language) -> list[CaseRow]:
    """Give the rows that were named, by letter or id, in the order they were named."""
    rows = {row.letter: row for row in case.rows}
    return [rows.get(text) or _row(case, text, language) for text in texts]


def _row(case: Case, text: str, language: Language) -> CaseRow:
    for row in case.rows:
        if text.upper() == row.letter or text == row.id:
            return row
    letters = ", ".join(row.letter for row in case.rows)
    raise Unreadable(phrase("unknown_row", language, text=f"“{text[:20]}”", letters=letters))


def _choice(case: Case, response: Response, language: Language) -> Verdict | None:
    """Judge the rows picked; None where none was."""
    picked = {row.letter for row in _picked(case, _texts(response, "rows"), language)}
    if not picked:
        return None
    if case.pick == "one" and len(picked) > 1:
        raise Unreadable(phrase("one_row", language))
    rows = [row for row in case.rows if row.letter in picked]
    wrong = [row for row in rows if not row.right]
    left_out = [row.letter for row in case.rows if row.right and row.letter not in picked]
    told = partial(_tell_choice, case, rows, wrong, left_out, language)
    return Verdict(right=not wrong and not left_out, codes=tuple([row.id for row in wrong]), tell=told)


def _tell_choice(
    case: Case, rows: list[CaseRow], wrong: list[CaseRow], left_out: list[str], language: Language
) -> Said:
    given, answer = ", ".join(row.letter for row in rows), case.answer.text[language]
    if not wrong and not left_out:
        return Said(phrase("right", language, answer=answer), (), given, answer)
    message = phrase("wrong", language, given=given, answer=answer)
    if left_out and case.pick == "many":
        which = "also_right" if len(left_out) == 1 else "also_right_many"
        message = f"{message} {phrase(which, language, rows=', '.join(left_out))}"
    return Said(message, _whys(wrong, language), given, answer)


def _order(case: Case, response: Response, language: Language) -> Verdict | None:
    """Judge an order by the pairs it breaks; None where no place was given."""
    texts = _texts(response, "order")
    count = len(case.rows)
    if not texts:
        if _texts(response, "places"):
            raise Unreadable(phrase("places", language, count=count))
        return None
    rows = _picked(case, texts, language)
    place = {row.letter: index for index, row in enumerate(rows)}
    if len(rows) != count or len(place) != count:
        raise Unreadable(phrase("places", language, count=count))
    broken = [pair for pair in case.pairs if place[pair.before] > place[pair.after]]
    ids = {row.letter: row.id for row in rows} if broken else {}
    codes = tuple([f"{ids[pair.before]}>{ids[pair.after]}" for pair in broken])
    return Verdict(right=not broken, codes=codes, tell=partial(_tell_order, case, rows, broken, codes, language))


def _tell_order(
    case: Case, rows: list[CaseRow], broken: list[CasePair], codes: tuple[str, ...], language: Language
) -> Said:
    given, answer = " → ".join(row.letter for row in rows), case.answer.text[language]
    if not broken:
        return Said(phrase("order_right", language, given=given), (), given, answer)
    text = {row.letter: row.text[language].rstrip(".") for row in rows}
    mistakes = []
    for pair, code in zip(broken, codes, strict=True):
        sentence = phrase("pair", language, before=text[pair.before], after=text[pair.after])
        mistakes.append(ExplainedMistake(code, f"{sentence} {pair.why[language]}".strip()))
    return Said(phrase("order_wrong", language, answer=answer), tuple(mistakes), given, answer)


def _judge(case: Case, response: Response, language: Language) -> Verdict | None:
    """Judge a decision and the reading marked with it; None where neither was given."""
    decision, marked = _texts(response, "decision"), _texts(response, "reading")
    if not decision and not marked:
        return None
    if len(decision) != 1 or decision[0] not in _DECISIONS:
        raise Unreadable(phrase("decision", language))
    failing = [row for row in case.rows if not row.right]
    if decision[0] == _SOUND:
        told = partial(_tell_accepted, case, failing, language)
        return Verdict(right=not failing, codes=tuple([row.id for row in failing]), tell=told)
    if len(marked) != 1 or not any(marked[0] in (row.letter, row.id) for row in case.rows):
        raise Unreadable(phrase("mark_reading", language, count=len(case.rows)))
    row = _row(case, marked[0], language)
    codes = () if not row.right else (*[one.id for one in failing], row.id)
    return Verdict(right=not row.right, codes=codes, tell=partial(_tell_rejected, case, failing, row, language))


def _tell_accepted(case: Case, failing: list[CaseRow], language: Language) -> Said:
    given, answer = phrase("accept", language), case.answer.text[language]
    if not failing:
        return Said(phrase("right", language, answer=answer), (), given, answer)
    return Said(_missed(failing, language), _whys(failing, language), given, answer)


def _tell_rejected(case: Case, failing: list[CaseRow], row: CaseRow, language: Language) -> Said:
    given, answer = phrase("reject_reading", language, reading=row.letter), case.answer.text[language]
    if not row.right:
        return Said(phrase("right", language, answer=answer), (), given, answer)
    message = _missed(failing, language) if failing else phrase("sound", language)
    message = f"{message} {phrase('marked_sound', language, **_values(row, language))}"
    return Said(message, _whys([*failing, row], language), given, answer)


def _whys(rows: Sequence[CaseRow], language: Language) -> tuple[ExplainedMistake, ...]:
    return tuple(ExplainedMistake(row.id, _why(row, language)) for row in rows)


def _why(row: CaseRow, language: Language) -> str:
    return row.why[language] if row.why is not None else ""


def _missed(failing: Sequence[CaseRow], language: Language) -> str:
    return " ".join(phrase("missed", language, **_values(row, language)) for row in failing)


def _values(row: CaseRow, language: Language) -> dict[str, str]:
    """Give what a row holds, by the names that the sentences about it use."""
    reading, limit = row.reading, row.limit
    return {
        "number": row.letter,
        "place": row.text[language],
        "reading": reading[language] if reading is not None else "",
        "limit": limit[language] if limit is not None else "",
    }


def _spot(case: Case, response: Response, language: Language) -> Verdict | None:
    """Judge the part pointed at; None where none was."""
    pointed = _texts(response, "part")
    if not pointed:
        return None
    rows = [row for row in case.rows if row.letter == pointed[0].upper()]
    if len(pointed) != 1 or not rows:
        letters = ", ".join(row.letter for row in case.rows)
        raise Unreadable(phrase("unknown_part", language, text=f"“{pointed[0][:20]}”", letters=letters))
    row = rows[0]
    faults = [one for one in case.rows if one.right and one.id != NO_FAULT]
    codes = () if row.right else (*[one.id for one in faults], *([row.id] if row.id != NO_FAULT else ()))
    return Verdict(right=row.right, codes=codes, tell=partial(_tell_spot, case, row, faults, language))


def _tell_spot(case: Case, row: CaseRow, faults: list[CaseRow], language: Language) -> Said:
    given, answer = f"{row.letter}, {row.text[language]}", case.answer.text[language]
    if row.right:
        message = phrase("spot_right", language, given=given, fact=_fact(row, language)).strip()
        return Said(message, (), given, answer)
    facts = " ".join(filter(None, (_fact(fault, language) for fault in faults)))
    which = "spot_sound" if not faults else "spot_missed" if row.id == NO_FAULT else "spot_wrong"
    message = phrase(which, language, given=given, answer=answer, fact=facts).strip()
    mistakes = list(_whys(faults, language))
    if row.id != NO_FAULT:
        why = f"{_pointed_at(row, given, language)} {_why(row, language)}".strip()
        mistakes.append(ExplainedMistake(row.id, why))
    return Said(message, tuple(mistakes), given, answer)


def _fact(row: CaseRow, language: Language) -> str:
    """Say what a part at fault measures and what is asked for; nothing where the fault is no length."""
    values = _values(row, language)
    return phrase("spot_fact", language, **values) if values["reading"] else ""


def _pointed_at(row: CaseRow, given: str, language: Language) -> str:
    values = _values(row, language)
    return phrase("spot_keeps" if values["reading"] else "spot_fine", language, given=given, **values)


_JUDGES: Final[Mapping[str, Callable[[Case, Response, Language], Verdict | None]]] = {
    "measure": judge_number,
    "count": judge_number,
    "choice": _choice,
    "order": _order,
    "judge": _judge,
    "spot": _spot,
}
