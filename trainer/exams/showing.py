"""What the pages of a sitting show, made from stored cases: nothing here carries an answer to the person who sits."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from trainer.exams import cases, queries
from trainer.exams.models import Sitting
from trainer.exams.queries import Answered
from trainer.exams.study import LessonPart, parts_to_read
from trainer.exams.trade_words import Pair, pairs_in, words_of
from trainer.library import queries as library
from trainer.rules.words import topic_title


def topic_text(topic: str, language: str) -> str:
    """Give a topic's title in `en` or `es`; a topic that the words lack reads as it is written."""
    for name in (topic, topic.replace("_", " "), topic.replace("-", " ")):
        try:
            return topic_title(name, language)
        except KeyError:
            continue
    return topic.replace("_", " ")


def module_title(sitting: Sitting, language: str) -> str:
    """Give the title of the module as it stood when the sitting began."""
    return library.module_of(sitting.module_version).title[cases.spoken(language)]


# ----------------------------------------------------------------------------------------------------------- sheets
@dataclass(frozen=True)
class SheetPage:
    """One sheet as shown: the public case, what was entered so far, and where it stands among the sheets."""

    number: int
    of: int
    case: dict[str, Any]
    kind: str
    response: cases.Response
    problem: str
    numbers: list[dict[str, Any]]  # each sheet's `number`, `blank` and `here`
    words: list[Pair]  # Spanish trade words on this sheet with the English ones

    @property
    def before(self) -> int | None:
        """The number of the sheet before, if there is one."""
        return self.number - 1 if self.number > 1 else None

    @property
    def after(self) -> int | None:
        """The number of the sheet after, if there is one."""
        return self.number + 1 if self.number < self.of else None


def sheet_page(sitting: Sitting, number: int, language: str) -> SheetPage | None:
    """Give one sheet of a sitting; None when it has no such number."""
    answered = queries.answered_sheets(sitting)
    one = next((one for one in answered if one.sheet.number == number), None)
    if one is None:
        return None
    case = cases.shown(one.sheet.evidence, language)
    return SheetPage(
        number=number,
        of=len(answered),
        case=case,
        kind=case["kind"],
        response=one.response,
        problem=problem_of(one, language),
        numbers=[{"number": other.sheet.number, "blank": other.is_blank, "here": other is one} for other in answered],
        words=pairs_in(words_of(case)) if language == "es" else [],
    )


def problem_of(one: Answered, language: str) -> str:
    """Say how to type an answer that was saved and cannot be read; empty when it can or is blank."""
    if one.is_blank:
        return ""
    return cases.verdict_on(one.sheet.evidence, one.response, language).problem or ""


@dataclass(frozen=True)
class TableLine:
    """A line of the table at the end: answered, blank, or saved and not readable."""

    number: int
    title: str
    is_blank: bool
    is_unread: bool


def table_lines(sitting: Sitting, language: str) -> list[TableLine]:
    """List the sheets of a sitting as answered or blank; never right or wrong."""
    return [
        TableLine(
            one.sheet.number,
            topic_text(one.sheet.topic, language),
            one.is_blank,
            bool(problem_of(one, language)),
        )
        for one in queries.answered_sheets(sitting)
    ]


# ----------------------------------------------------------------------------------------------------------- result
@dataclass(frozen=True)
class TopicLine:
    """A topic of the result: how many of its questions were right, and what to read again where some were not."""

    title: str
    right: int
    of: int
    parts: list[LessonPart]

    @property
    def is_whole(self) -> bool:
        """Whether every question of the topic was right."""
        return self.right == self.of


@dataclass(frozen=True)
class Result:
    """What came of a sitting, for the person who sat: no question's answer, and not which answers were wrong."""

    topics: list[TopicLine]
    critical_missed: list[str]  # titles of the critical questions missed
    blank: int
    again_at: datetime | None


def score_sheets(sitting: Sitting) -> list[dict[str, Any]]:
    """Give the stored verdict on each sheet of a scored sitting."""
    score = sitting.scored
    return [] if score is None else list(json.loads(score.evidence.text)["sheets"])


def result_of(sitting: Sitting, language: str) -> Result:
    """Give the result of a scored sitting, by topic."""
    judged = score_sheets(sitting)
    by_number = {one.sheet.number: one.sheet.evidence for one in queries.answered_sheets(sitting)}
    missed = [sheet for sheet in judged if not sheet["right"]]
    titles = [cases.title_of(by_number[sheet["number"]], language) for sheet in missed if sheet["critical"]]
    return Result(
        topics=_topic_lines(sitting, judged, language),
        critical_missed=titles,
        blank=sum(sheet["blank"] for sheet in judged),
        again_at=queries.may_start_at(sitting, sitting.plan),
    )


def _topic_lines(sitting: Sitting, judged: Sequence[dict[str, Any]], language: str) -> list[TopicLine]:
    lines = []
    for topic in dict.fromkeys(sorted(sheet["topic"] for sheet in judged)):
        of_topic = [sheet for sheet in judged if sheet["topic"] == topic]
        missed = [sheet["question"] for sheet in of_topic if not sheet["right"]]
        lines.append(
            TopicLine(
                title=topic_text(topic, language),
                right=len(of_topic) - len(missed),
                of=len(of_topic),
                parts=parts_to_read(sitting.module_version, missed, language) if missed else [],
            )
        )
    return lines
