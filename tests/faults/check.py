"""Compare the database with what the server acknowledged. Reads JSON, prints counts and problems as JSON."""

import json
import sys
from collections import defaultdict
from typing import Any

import django

django.setup()

from django.db.models import Count  # noqa: E402  Django must be set up first
from django.http import QueryDict  # noqa: E402

from trainer.base.models import JournalEntry  # noqa: E402
from trainer.exams import cases, queries  # noqa: E402
from trainer.exams.models import Sheet, SheetAnswer, Sitting, SittingEnd, SittingScore  # noqa: E402
from trainer.exams.scoring import score_document  # noqa: E402
from trainer.library.responses import read_response  # noqa: E402
from trainer.records.models import CompletionRecord  # noqa: E402


def entered(kind: str, data: dict[str, Any]) -> str:
    """Give the stored form of what was sent."""
    post = QueryDict(mutable=True)
    for name, value in data.items():
        post.setlist(name, value if isinstance(value, list) else [value])
    return json.dumps(read_response(kind, post), sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def answers_lost(answers: list[dict[str, Any]]) -> list[str]:
    """Say which acknowledged answers are not in the database, or do not stand though they came last."""
    sheets = {(str(one.sitting.ref), one.number): one for one in Sheet.objects.select_related("sitting", "evidence")}
    kinds = {sheet.pk: cases.stored_case(sheet.evidence).kind for sheet in sheets.values()}
    rows: dict[int, list[str]] = defaultdict(list)
    for answer in SheetAnswer.objects.order_by("pk"):
        rows[answer.sheet_id].append(answer.response)
    problems, last = [], {}
    for given in answers:
        sheet = sheets[given["sitting"], given["number"]]
        text = entered(kinds[sheet.pk], given["data"])
        last[sheet.pk] = text
        if text not in rows[sheet.pk]:
            problems.append(f"lost: {given}")
    problems += [
        f"sheet {pk} stands at {rows[pk][-1:]}, not {text}" for pk, text in last.items() if rows[pk][-1:] != [text]
    ]
    return problems


def told_twice() -> list[str]:
    """Say what was numbered, ended, scored, journaled or issued more than once."""
    problems = []
    for name, rows, key in (
        ("end", SittingEnd.objects.all(), "sitting"),
        ("score", SittingScore.objects.all(), "sitting"),
        ("record", CompletionRecord.objects.all(), "sitting"),
        ("record code", CompletionRecord.objects.all(), "code"),
        ("journal line", JournalEntry.objects.filter(verb="sitting-ended"), "subject"),
        ("answer", SheetAnswer.objects.all(), "sheet,send,turn"),
    ):
        twice = rows.values(*key.split(",")).annotate(times=Count("pk")).filter(times__gt=1)
        problems += [f"{name} twice: {row}" for row in twice]
    again = SheetAnswer.objects.filter(turn__gt=1)  # the sitters change an answer on a fresh form only
    return [*problems, *(f"a send sent again became a second row: {row.pk}" for row in again)]


def scores_wrong(sittings: list[str], ended: list[str]) -> list[str]:
    """Say which sittings are missing, not scored, scored otherwise than their answers, or without record."""
    problems = [f"sitting lost: {ref}" for ref in sittings if not Sitting.objects.filter(ref=ref).exists()]
    found = {str(one.ref): one for one in queries.sittings().select_related("record", "score__evidence")}
    problems += [f"ended but not scored: {ref}" for ref in ended if ref in found and found[ref].scored is None]
    for sitting in found.values():
        score = sitting.scored
        if sitting.sheets.count() != sitting.plan.questions:
            problems.append(f"sitting {sitting.ref} has {sitting.sheets.count()} sheets")
        if (score is None) != (sitting.ended is None):
            problems.append(f"sitting {sitting.ref} is ended and not scored, or the other way round")
        if score is None:
            continue
        if json.loads(score.evidence.text) != score_document(sitting, queries.answered_sheets(sitting)):
            problems.append(f"sitting {sitting.ref} is not scored by what was answered")
        if score.passed != hasattr(sitting, "record"):
            problems.append(f"sitting {sitting.ref} passed is {score.passed}, and its record says otherwise")
    return problems


def main() -> None:
    """Read what was acknowledged, print what is there."""
    said = json.load(sys.stdin)
    problems = [*answers_lost(said["answers"]), *told_twice(), *scores_wrong(said["sittings"], said["ended"])]
    counts = {
        "answer_rows": SheetAnswer.objects.count(),
        "sittings": Sitting.objects.count(),
        "scored": SittingScore.objects.count(),
        "passed": SittingScore.objects.filter(passed=True).count(),
        "records": CompletionRecord.objects.count(),
    }
    print(json.dumps({"counts": counts, "problems": problems}))


if __name__ == "__main__":
    main()
