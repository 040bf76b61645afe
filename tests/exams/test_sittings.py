"""Starting, answering, ending and scoring a sitting."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from tests import factories
from tests.exams.conftest import adopt, answer_all, right_response, start, wrong_response
from trainer.base import clock, ids
from trainer.base.errors import Refused
from trainer.base.models import JournalEntry
from trainer.exams import cases, queries, services
from trainer.exams.models import Sheet, SheetAnswer, Sitting, SittingEnd, SittingScore
from trainer.exams.signals import sitting_scored
from trainer.people.access import Member
from trainer.people.models import Company

NOON = datetime(2026, 3, 4, 18, tzinfo=UTC)
Save = Callable[..., Any]


@pytest.fixture
def sitting(ready: Company, trainee: Member) -> Sitting:
    """Give an open sitting of the sample module."""
    return start(trainee)


def test_it_holds_the_plan(sitting: Sitting) -> None:
    """Topics, counts and the critical question are as the plan asks."""
    topics = sorted(sitting.sheets.values_list("topic", flat=True))

    assert topics == ["fastening", "laps", "laps", "laps", "layout", "layout"]
    assert sitting.sheets.get(critical=True).question == "sample/short-lap"
    assert sitting.ends_at - sitting.started_at == timedelta(minutes=20)


def test_it_stores_each_case_whole(sitting: Sitting) -> None:
    """Both languages, the answer and the rule editions lie in the evidence; nothing else is needed to judge."""
    for sheet in sitting.sheets.all():
        document = json.loads(sheet.evidence.text)

        assert document["question"] == sheet.question
        assert set(document["stem"]) == {"en", "es"}
        assert document["stem"]["en"] != document["stem"]["es"]
        assert document["answer"]["value"]


def test_it_gives_each_person_own_numbers(ready: Company) -> None:
    """Over ten people, no question with parameters comes with the same case twice."""
    sittings = [start(factories.member(ready)) for _ in range(10)]
    numbered = Sheet.objects.filter(sitting__in=sittings, question__in=["sample/nails", "sample/chalk-line"])

    digests = list(numbered.values_list("evidence__digest", flat=True))
    assert len(set(digests)) >= len(digests) - 1  # 273 lengths of eave: two people may meet once by chance
    assert len({sitting.seed for sitting in sittings}) == 10


def test_it_resumes_instead_of_starting_twice(sitting: Sitting, trainee: Member) -> None:
    """Starting again while one is open gives the open one."""
    assert start(trainee) == sitting
    assert Sitting.objects.count() == 1


def test_it_keeps_a_saved_answer(sitting: Sitting, save: Save) -> None:
    """What was saved is what stands, and a later answer replaces it without touching the row."""
    save(sitting, 1, {"text": "1"})
    save(sitting, 1, {"text": "2"})

    one = queries.answered_sheets(sitting)[0]
    assert one.response == {"text": "2"}
    assert SheetAnswer.objects.filter(sheet=one.sheet).count() == 2


def test_it_takes_a_second_send_for_the_same_answer(sitting: Sitting, save: Save) -> None:
    """A form sent again, as after a lost connection, is the same row."""
    send = ids.new_ref()
    first = save(sitting, 1, {"text": "1"}, send=send)
    again = save(sitting, 1, {"text": "1"}, send=send)

    assert first == again
    assert SheetAnswer.objects.count() == 1


def test_it_lets_a_late_second_send_change_nothing(sitting: Sitting, save: Save) -> None:
    """A re-send of an older form does not undo a newer answer."""
    send = ids.new_ref()
    save(sitting, 1, {"text": "1"}, send=send)
    save(sitting, 1, {"text": "2"})
    save(sitting, 1, {"text": "1"}, send=send)

    assert queries.answered_sheets(sitting)[0].response == {"text": "2"}


def test_it_keeps_each_change_on_one_form(sitting: Sitting, save: Save) -> None:
    """A form that is still open may change its answer, and change it back."""
    send = ids.new_ref()
    for text in ("1", "2", "1"):
        save(sitting, 1, {"text": text}, send=send)

    assert queries.answered_sheets(sitting)[0].response == {"text": "1"}
    assert SheetAnswer.objects.count() == 3


def test_it_lets_an_answer_be_taken_back(sitting: Sitting, save: Save) -> None:
    """An emptied form leaves the sheet blank; a sheet that was blank gets no row."""
    assert save(sitting, 2, {}) is None
    save(sitting, 1, {"text": "1"})
    save(sitting, 1, {})

    answered = queries.answered_sheets(sitting)
    assert queries.blank_numbers(answered) == [1, 2, 3, 4, 5, 6]
    assert SheetAnswer.objects.count() == 2


def test_it_keeps_a_send_of_somebody_else_apart(ready: Company, sitting: Sitting, save: Save) -> None:
    """Another person's UUID gives no answer away and hides none."""
    other = start(factories.member(ready))
    send = ids.new_ref()
    save(sitting, 1, {"text": "1"}, send=send)
    save(other, 1, {"text": "1"}, send=send)

    assert queries.answered_sheets(other)[0].response == {"text": "1"}
    assert SheetAnswer.objects.count() == 2


def test_it_passes_who_is_right(sitting: Sitting, save: Save, trainee: Member) -> None:
    """Every answer right: passed, and each kind of question is judged from its stored case."""
    answer_all(sitting, save)
    score = services.end_sitting(sitting=sitting, by=trainee.account)

    assert (score.right, score.of, score.passed, score.critical_missed) == (6, 6, True, 0)
    assert SittingEnd.objects.get().how == "person"


def test_it_fails_a_missed_critical_question_whatever_the_score(sitting: Sitting, save: Save) -> None:
    """Five of six reach the passing score, yet the missed critical question decides."""
    critical = sitting.sheets.get(critical=True).number
    answer_all(sitting, save, wrong=(critical,))
    score = services.end_sitting(sitting=sitting)

    assert (score.right, score.passed, score.critical_missed) == (5, False, 1)


def test_it_forgives_what_the_plan_forgives(sitting: Sitting, save: Save) -> None:
    """One slip elsewhere passes, two do not reach five."""
    others = tuple(sitting.sheets.filter(critical=False).values_list("number", flat=True))
    answer_all(sitting, save, wrong=others[:1])

    assert services.end_sitting(sitting=sitting).passed is True


def test_it_does_not_pass_below_the_passing_score(sitting: Sitting, save: Save) -> None:
    """Two slips leave four of six: not passed."""
    others = tuple(sitting.sheets.filter(critical=False).values_list("number", flat=True))
    answer_all(sitting, save, wrong=others[:2])
    score = services.end_sitting(sitting=sitting)

    assert (score.right, score.passed) == (4, False)


def test_it_counts_blank_and_unreadable_as_not_right(sitting: Sitting, save: Save) -> None:
    """A typed answer that nobody can read is kept as typed, marked unread, and not right."""
    number = sitting.sheets.get(question="sample/nails").number
    save(sitting, number, {"text": "about a box"})
    score = services.end_sitting(sitting=sitting)

    sheets = json.loads(score.evidence.text)["sheets"]
    assert score.right == 0
    assert [sheet["blank"] for sheet in sheets].count(True) == 5
    assert sheets[number - 1]["unread"] is True
    assert sheets[number - 1]["response"] == {"text": "about a box"}


def test_it_scores_once(sitting: Sitting, save: Save) -> None:
    """Ending again gives the first score and tells nobody twice."""
    told: list[Sitting] = []

    def hear(sitting: Sitting, **_rest: Any) -> None:
        told.append(sitting)

    sitting_scored.connect(hear)
    try:
        answer_all(sitting, save)
        first = services.end_sitting(sitting=sitting)
        again = services.end_sitting(sitting=sitting)
    finally:
        sitting_scored.disconnect(hear)

    assert first == again
    assert told == [sitting]
    assert JournalEntry.objects.filter(verb="sitting-ended").count() == 1


def test_it_undoes_the_score_when_a_receiver_fails(sitting: Sitting) -> None:
    """A record that cannot be issued leaves the sitting open, to be scored later: no score without its record."""

    def fail(**_rest: Any) -> None:
        raise RuntimeError("the register is busy")

    sitting_scored.connect(fail)
    try:
        with pytest.raises(RuntimeError):
            services.end_sitting(sitting=sitting)
    finally:
        sitting_scored.disconnect(fail)

    assert not SittingScore.objects.exists()
    assert not SittingEnd.objects.exists()
    assert services.end_sitting(sitting=sitting).of == 6


def test_it_refuses_an_answer_after_the_end(sitting: Sitting, save: Save) -> None:
    """An ended sitting takes nothing more."""
    services.end_sitting(sitting=sitting)

    with pytest.raises(Refused, match="had ended"):
        save(sitting, 1, {"text": "1"})


def test_it_still_acknowledges_a_send_that_came_in_time(sitting: Sitting, save: Save) -> None:
    """A re-send after the end of what was saved before it is not an error."""
    send = ids.new_ref()
    first = save(sitting, 1, {"text": "1"}, send=send)
    services.end_sitting(sitting=sitting)

    assert save(sitting, 1, {"text": "1"}, send=send) == first


def test_it_ends_by_the_servers_clock(ready: Company, trainee: Member, save: Save) -> None:
    """One second in time counts; at the end an answer is refused and the touch itself ends and scores."""
    with clock.fixed(NOON):
        sitting = start(trainee)
        clock.advance(timedelta(minutes=19, seconds=59))
        save(sitting, 1, right_response(sitting, 1))
        clock.advance(timedelta(seconds=1))
        with pytest.raises(Refused, match="had ended"):
            save(sitting, 2, right_response(sitting, 2))

    end = SittingEnd.objects.get()
    assert (end.how, end.ended_at) == ("clock", sitting.ends_at)
    assert SittingScore.objects.get().right == 1


def test_it_scores_what_was_saved_when_the_end_comes_late(ready: Company, trainee: Member, save: Save) -> None:
    """Ended by hand a day later, it is still the clock that ended it, at its time."""
    with clock.fixed(NOON):
        sitting = start(trainee)
        answer_all(sitting, save)
        clock.advance(timedelta(days=1))
        score = services.end_sitting(sitting=sitting, by=trainee.account)

    assert score.passed is True
    assert SittingEnd.objects.get().how == "clock"
    assert JournalEntry.objects.get(verb="sitting-ended").actor is None


def test_it_waits_before_another(ready: Company, trainee: Member) -> None:
    """The wait counts from the end, to the second; the refusal says when, in the company's time."""
    with clock.fixed(NOON):
        services.end_sitting(sitting=start(trainee))
        clock.advance(timedelta(hours=24, seconds=-1))
        with pytest.raises(Refused, match=r"March 5, 2026, 12:00 p\.m\."):
            start(trainee)
        clock.advance(timedelta(seconds=1))

        assert start(trainee).number == 2


def test_it_counts_the_wait_from_the_clocks_end(ready: Company, trainee: Member) -> None:
    """A sitting nobody touched again ended when its time was up, not when somebody looked."""
    with clock.fixed(NOON):
        start(trainee)
        clock.advance(timedelta(hours=24, minutes=20))

        assert start(trainee).number == 2


def test_it_stays_under_the_plan_and_revision_it_began_under(ready: Company, trainee: Member, save: Save) -> None:
    """A revision adopted during the sitting changes nothing in it."""
    sitting = start(trainee)
    before = [sheet.evidence.digest for sheet in sitting.sheets.all()]
    adopt(ready, "2026")
    answer_all(sitting, save)

    assert services.end_sitting(sitting=sitting).passed is True
    assert sitting.specification_revision.revision == "2024"
    assert [sheet.evidence.digest for sheet in sitting.sheets.all()] == before


def test_it_judges_from_the_stored_case_alone(sitting: Sitting, save: Save, monkeypatch: pytest.MonkeyPatch) -> None:
    """With every question and specification gone from the library, all verdicts are the same."""
    answer_all(sitting, save)

    def gone(*_args: Any, **_kwargs: Any) -> None:
        raise LookupError("the library is gone")

    for name in ("question", "questions_of", "all_questions_of", "specification_of"):
        monkeypatch.setattr(f"trainer.library.queries.{name}", gone)
    monkeypatch.setattr(cases, "make_case", gone)

    assert services.end_sitting(sitting=sitting).right == 6


def test_it_keeps_the_whole_verdict(sitting: Sitting, save: Save) -> None:
    """The verdict's evidence names each sheet's case, response and mistakes, and the plan that decided."""
    number = sitting.sheets.get(question="sample/nails").number
    save(sitting, number, wrong_response(sitting, number))
    document = json.loads(services.end_sitting(sitting=sitting).evidence.text)

    assert document["plan"]["passing_score"] == 5
    assert document["specification"] == "two-ply-self-adhered/2024"
    for sheet, judged in zip(sitting.sheets.all(), document["sheets"], strict=True):
        assert judged["case"] == sheet.evidence.digest
    assert document["sheets"][number - 1]["response"] == {"text": "1"}


@pytest.mark.parametrize("number", [0, 7])
def test_it_refuses_a_question_that_is_not_there(sitting: Sitting, save: Save, number: int) -> None:
    """The refusal names the number."""
    with pytest.raises(Refused, match=f"no question {number}"):
        save(sitting, number, {"text": "1"})


def test_it_refuses_an_endless_answer(sitting: Sitting, save: Save) -> None:
    """Nobody fills the disk through an answer."""
    with pytest.raises(Refused, match="too long"):
        save(sitting, 1, {"text": "1" * 5000})


def test_it_refuses_to_start_without_a_specification(company: Company, loaded: None, trainee: Member) -> None:
    """Without an adopted revision there are no numbers to ask for."""
    with pytest.raises(Refused, match="not adopted the specification"):
        start(trainee)


def test_it_refuses_a_module_without_plan(ready: Company, trainee: Member) -> None:
    """An unknown module is refused in words."""
    with pytest.raises(Refused, match="no exam for this module"):
        start(trainee, "nowhere")


def test_it_shows_no_seed_in_its_text(sitting: Sitting) -> None:
    """A log line or an error that holds the row does not hold its seed."""
    assert sitting.seed not in repr(sitting) + str(sitting)
