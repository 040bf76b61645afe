"""Responses as a person would enter them: right, or wrong with a mistake that the question knows."""

import random

from trainer.questions.case import Case

Response = dict[str, str | list[str]]


def right_response(case: Case) -> Response:
    """Answer a case right, as a person would enter it."""
    if case.kind in ("measure", "count"):
        return {"text": case.answer.text["en"]}
    letters = [str(letter) for letter in case.answer.value]
    if case.kind == "choice":
        return {"rows": sorted(letters)}
    if case.kind == "order":
        return {"order": letters}
    if case.kind == "spot":
        return {"part": letters[0]}
    return {"decision": letters[0], **({"reading": letters[1]} if len(letters) > 1 else {})}


def wrong_response(case: Case, chance: random.Random) -> Response:
    """Answer a case wrong: with one of its mistakes where it has any, else by taking the wrong rows or order."""
    if case.kind in ("measure", "count") and case.mistakes:
        return {"text": chance.choice(case.mistakes).shown["en"]}
    if case.kind in ("choice", "spot"):
        letter = chance.choice([row.letter for row in case.rows if not row.right])
        return {"rows": [letter]} if case.kind == "choice" else {"part": letter}
    if case.kind == "order":
        order = [row.letter for row in case.rows]
        right = right_response(case)["order"]
        return {"order": order if order != right else list(reversed(order))}
    if case.kind == "judge":
        if case.answer.value[0] == "reject":
            return {"decision": "accept"}
        return {"decision": "reject", "reading": case.rows[0].letter}
    return {"text": "1"}
