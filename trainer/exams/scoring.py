"""Work out a score from stored cases and answers, as one document that says how each sheet was judged."""

import json
from collections.abc import Sequence
from typing import Any

from trainer.exams import cases
from trainer.exams.models import Sitting
from trainer.exams.queries import Answered


def score_document(sitting: Sitting, answered: Sequence[Answered]) -> dict[str, Any]:
    """Judge every sheet and give the whole verdict: strings, integers, booleans, lists and objects only.

    An answer that cannot be read counts as not right, like a blank one. Passed: the score reaches the plan's passing
    score and no critical question is missed.
    """
    sheets = [_judged(one) for one in answered]
    right = sum(sheet["right"] for sheet in sheets)
    missed = [sheet["question"] for sheet in sheets if sheet["critical"] and not sheet["right"]]
    return {
        "sitting": str(sitting.ref),
        "module": sitting.module_version.slug,
        "module_digest": sitting.module_version.digest,
        "specification": sitting.specification_revision.key,
        "plan": {
            "ref": str(sitting.plan.ref),
            "questions": sitting.plan.questions,
            "topics": json.loads(sitting.plan.topics),
            "critical": json.loads(sitting.plan.critical),
            "passing_score": sitting.plan.passing_score,
        },
        "sheets": sheets,
        "right": right,
        "of": len(sheets),
        "critical_missed": missed,
        "passed": right >= sitting.plan.passing_score and not missed,
    }


def _judged(one: Answered) -> dict[str, Any]:
    language = one.answer.language[:2] if one.answer is not None else "en"
    verdict = cases.verdict_on(one.sheet.evidence, one.response, language)
    return {
        "number": one.sheet.number,
        "question": one.sheet.question,
        "topic": one.sheet.topic,
        "critical": one.sheet.critical,
        "case": one.sheet.evidence.digest,
        "response": one.response,
        "language": language,
        "saved_at": "" if one.answer is None else one.answer.saved_at.isoformat(),
        "blank": one.is_blank,
        "unread": bool(verdict.problem),
        "right": verdict.right,
        "mistakes": list(verdict.codes),
    }
