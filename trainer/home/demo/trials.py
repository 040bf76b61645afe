"""How the demo's people answer: right as often as their ability says, else with a mistake the question knows."""

import random
from datetime import timedelta

from trainer.base import clock, ids
from trainer.base.errors import Refused
from trainer.exams import queries as exams
from trainer.exams import services as exam_services
from trainer.exams.cases import stored_case
from trainer.exams.models import Sitting
from trainer.people.access import Member
from trainer.questions.case import Case
from trainer.questions.sample_responses import Response, right_response, wrong_response
from trainer.training import queries as training
from trainer.training import services as training_services


def respond(case: Case, *, ability: int, chance: random.Random) -> Response:
    """Answer a case: right with the chance that `ability` gives in percent."""
    return right_response(case) if chance.randrange(100) < ability else wrong_response(case, chance)


def answer_like(sitting: Sitting, *, ability: int, chance: random.Random) -> None:
    """Answer every sheet of an open sitting, a minute or so apart, saving each as the pages do."""
    for answered in exams.answered_sheets(sitting):
        clock.advance(timedelta(seconds=chance.randrange(25, 110)))
        case = stored_case(answered.sheet.evidence)
        exam_services.save_answer(
            sitting=sitting,
            number=answered.sheet.number,
            send=ids.new_ref(),
            response=respond(case, ability=ability, chance=chance),
            language=sitting.language,
        )


def practice(member: Member, module: str, *, tries: int, ability: int, chance: random.Random) -> None:
    """Practice a module for a number of tries, one question after another."""
    for _number in range(tries):
        try:
            row = training_services.draw_case(member=member, module=module)
        except Refused:
            return
        clock.advance(timedelta(seconds=chance.randrange(20, 90)))
        case = training.case_of(row)
        response = respond(case, ability=ability, chance=chance)
        training_services.answer_case(row=row, response=response, language=member.language)
