"""Fill the database of the fault test: lessons, a company with its own plan, people. Prints their sessions."""

import json
import sys
from datetime import date

import django

django.setup()

from django.conf import settings  # noqa: E402  Django must be set up first
from django.core.management import call_command  # noqa: E402

from tests import factories  # noqa: E402
from trainer.exams import queries  # noqa: E402
from trainer.exams.models import ExamPlan, plan_numbers  # noqa: E402
from trainer.library import queries as library  # noqa: E402
from trainer.library.services import adopt_specification, load_lessons  # noqa: E402
from trainer.people.models import Company  # noqa: E402

MODULE = "base-sheet-layout"


def lenient_plan(company: Company) -> None:
    """Let one right answer pass and let nobody wait, so that guesses are scored and recorded as often as can be."""
    plan = queries.plan_in_force(company, MODULE, on=company.today())
    if plan is None:
        raise SystemExit(f"the lessons hold no exam plan of {MODULE}")
    ExamPlan.objects.create(
        company=company,
        scope=str(company.ref),
        module=MODULE,
        effective_from=company.today(),
        reason_en="For this test one is enough.",
        reason_es="Para esta prueba basta una.",
        **{**plan_numbers(plan), "critical": "[]", "passing_score": 1, "minutes": 240, "wait_hours": 0},
    )


def main(people: int) -> None:
    """Make everything through the services."""
    call_command("migrate", verbosity=0)
    load_lessons(folder=settings.LESSONS_DIR)
    company = factories.CompanyFactory.create(name="Own Roofing", slug="own")
    revision = library.revision("two-ply-self-adhered", "2024")
    if revision is None:
        raise SystemExit("the lessons hold no revision two-ply-self-adhered/2024")
    adopt_specification(company=company, revision=revision, on=date(2024, 1, 1))
    lenient_plan(company)
    members = [factories.member(company) for _ in range(people)]
    clients = [factories.client_for(member) for member in members]
    sessions = [client.cookies[settings.SESSION_COOKIE_NAME].value for client in clients]
    print(json.dumps({"module": MODULE, "sessions": sessions}))


if __name__ == "__main__":
    main(int(sys.argv[1]))
