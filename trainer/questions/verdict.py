"""Judges a response to a case: `judge(case, response, language)`. Reads only the case, so a stored one judges alike."""

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from trainer.questions.case import Case, CaseRow
from trainer.questions.model import Language
from trainer.questions.number_verdict import judge_number
from trainer.questions.phrases import phrase
from trainer.questions.responses import Unreadable
from trainer.questions.targets import NO_FAULT
from trainer.questions.verdicts import ExplainedMistake, Verdict, spoken

Response = Mapping[str, str | list[str]]
_SOUND: Final = "accept"


def judge(case: Case, response: Response, language: Language = "en") -> Verdict:
    """Judge a response; `language` is the reader's, for the texts only."""
    try:
        return _JUDGES[case.kind](case, response, language)
    except Unreadable as unreadable:
        message = str(unreadable)
        return spoken(False, False, message, (), "", case.answer.text[language], message)


def _blank(case: Case, language: Language) -> Verdict:
    answer = case.answer.text[language]
    return spoken(False, True, phrase("blank", language, answer=answer), (), "", answer)


def _number(case: Case, response: Response, language: Language) -> Verdict:
    return judge_number(case, response, language) or _blank(case, language)


def _texts(response: Response, key: str) -> list[str]:
    value = response.get(key, [])
    found = [value] if isinstance(value, str) else list(value)
    return [text.strip() for text in found if text.strip()]


def _row(case: Case, text: str, language: Language) -> CaseRow:
    for row in case.rows:
        if text.upper() == row.letter or text == row.id:
            return row
    letters = ", ".join(row.letter for row in case.rows)
    raise Unreadable(phrase("unknown_row", language, text=f"“{text[:20]}”", letters=letters))


def _choice(case: Case, response: Response, language: Language) -> Verdict:
    picked = {row.letter: row for row in (_row(case, text, language) for text in _texts(response, "rows"))}
    if not picked:
        return _blank(case, language)
    if case.pick == "one" and len(picked) > 1:
        raise Unreadable(phrase("one_row", language))
    rows = [row for row in case.rows if row.letter in picked]
    given_text, answer_text = ", ".join(row.letter for row in rows), case.answer.text[language]
    wrong = [row for row in rows if not row.right]
    left_out = [row.letter for row in case.rows if row.right and row.letter not in picked]
    if not wrong and not left_out:
        message = phrase("right", language, answer=answer_text)
        return spoken(True, False, message, (), given_text, answer_text)
    message = phrase("wrong", language, given=given_text, answer=answer_text)
    if left_out and case.pick == "many":
        which = "also_right" if len(left_out) == 1 else "also_right_many"
        message = f"{message} {phrase(which, language, rows=', '.join(left_out))}"
    mistakes = tuple(ExplainedMistake(row.id, _why(row, language)) for row in wrong)
    return spoken(False, False, message, mistakes, given_text, answer_text)


def _why(row: CaseRow, language: Language) -> str:
    return row.why[language] if row.why is not None else ""


def _order(case: Case, response: Response, language: Language) -> Verdict:
    texts = _texts(response, "order")
    count = len(case.rows)
    if not texts:
        if _texts(response, "places"):
            raise Unreadable(phrase("places", language, count=count))
        return _blank(case, language)
    rows = [_row(case, text, language) for text in texts]
    letters = [row.letter for row in rows]
    if len(letters) != count or len(set(letters)) != count:
        raise Unreadable(phrase("places", language, count=count))
    place = {letter: index for index, letter in enumerate(letters)}
    broken = [pair for pair in case.pairs if place[pair.before] > place[pair.after]]
    given_text, answer_text = " → ".join(letters), case.answer.text[language]
    if not broken:
        message = phrase("order_right", language, given=given_text)
        return spoken(True, False, message, (), given_text, answer_text)
    text = {row.letter: row for row in case.rows}
    mistakes = []
    for pair in broken:
        before, after = text[pair.before], text[pair.after]
        sentence = phrase("pair", language, before=_quoted(before, language), after=_quoted(after, language))
        message = f"{sentence} {pair.why[language]}".strip()
        mistakes.append(ExplainedMistake(f"{before.id}>{after.id}", message))
    message = phrase("order_wrong", language, answer=answer_text)
    return spoken(False, False, message, tuple(mistakes), given_text, answer_text)


def _quoted(row: CaseRow, language: Language) -> str:
    return row.text[language].rstrip(".")


def _judge(case: Case, response: Response, language: Language) -> Verdict:
    decision, marked = _texts(response, "decision"), _texts(response, "reading")
    if not decision and not marked:
        return _blank(case, language)
    if len(decision) != 1 or decision[0] not in ("accept", "reject"):
        raise Unreadable(phrase("decision", language))
    answer_text = case.answer.text[language]
    failing = [row for row in case.rows if not row.right]
    if decision[0] == _SOUND:
        given_text = phrase("accept", language)
        if not failing:
            return spoken(True, False, phrase("right", language, answer=answer_text), (), given_text, answer_text)
        return spoken(False, False, _missed(failing, language), _whys(failing, language), given_text, answer_text)
    if len(marked) != 1 or not any(row.letter == marked[0] or row.id == marked[0] for row in case.rows):
        raise Unreadable(phrase("mark_reading", language, count=len(case.rows)))
    row = _row(case, marked[0], language)
    given_text = phrase("reject_reading", language, reading=row.letter)
    if not row.right:
        return spoken(True, False, phrase("right", language, answer=answer_text), (), given_text, answer_text)
    message = _missed(failing, language) if failing else phrase("sound", language)
    message = f"{message} {_sound(row, language)}"
    return spoken(False, False, message, _whys([*failing, row], language), given_text, answer_text)


def _whys(rows: Sequence[CaseRow], language: Language) -> tuple[ExplainedMistake, ...]:
    return tuple(ExplainedMistake(row.id, _why(row, language)) for row in rows)


def _missed(failing: Sequence[CaseRow], language: Language) -> str:
    return " ".join(phrase("missed", language, **_facts(row, language)) for row in failing)


def _sound(row: CaseRow, language: Language) -> str:
    return phrase("marked_sound", language, **_facts(row, language))


def _facts(row: CaseRow, language: Language) -> dict[str, str]:
    reading, limit = row.reading, row.limit
    return {
        "number": row.letter,
        "place": row.text[language],
        "reading": reading[language] if reading is not None else "",
        "limit": limit[language] if limit is not None else "",
    }


def _spot(case: Case, response: Response, language: Language) -> Verdict:
    pointed = _texts(response, "part")
    if not pointed:
        return _blank(case, language)
    rows = [row for row in case.rows if row.letter == pointed[0].upper()]
    if len(pointed) != 1 or not rows:
        letters = ", ".join(row.letter for row in case.rows)
        raise Unreadable(phrase("unknown_part", language, text=f"“{pointed[0][:20]}”", letters=letters))
    row, answer_text = rows[0], case.answer.text[language]
    given_text = f"{row.letter}, {row.text[language]}"
    faults = [one for one in case.rows if one.right and one.id != NO_FAULT]
    facts = " ".join(filter(None, (_fact(fault, language) for fault in faults)))
    if row.right:
        message = phrase("spot_right", language, given=given_text, fact=_fact(row, language)).strip()
        return spoken(True, False, message, (), given_text, answer_text)
    which = "spot_sound" if not faults else "spot_missed" if row.id == NO_FAULT else "spot_wrong"
    message = phrase(which, language, given=given_text, answer=answer_text, fact=facts).strip()
    mistakes = list(_whys(faults, language))
    if row.id != NO_FAULT:
        mistakes.append(
            ExplainedMistake(row.id, f"{_pointed_at(row, given_text, language)} {_why(row, language)}".strip())
        )
    return spoken(False, False, message, tuple(mistakes), given_text, answer_text)


def _fact(row: CaseRow, language: Language) -> str:
    """Say what a part at fault measures and what is asked for; nothing where the fault is no length."""
    facts = _facts(row, language)
    return phrase("spot_fact", language, **facts) if facts["reading"] else ""


def _pointed_at(row: CaseRow, given: str, language: Language) -> str:
    facts = _facts(row, language)
    return phrase("spot_keeps" if facts["reading"] else "spot_fine", language, given=given, **facts)


_JUDGES: Final[Mapping[str, Callable[[Case, Response, Language], Verdict]]] = {
    "measure": _number,
    "count": _number,
    "choice": _choice,
    "order": _order,
    "judge": _judge,
    "spot": _spot,
}
