"""Exam answers saved a second beside a bare signed-in view with one INSERT, on the same database."""

import itertools
import os
import tempfile
import time
from typing import Any
from uuid import uuid4


def main() -> None:
    """Print both rates and their ratio."""
    folder = tempfile.mkdtemp(prefix="load-")
    os.environ.update(TRAINER_MODE="demo", TRAINER_DATA=folder, DJANGO_SETTINGS_MODULE="trainer.settings")
    import django

    django.setup()
    from django.conf import settings
    from django.contrib.auth.decorators import login_required
    from django.core.management import call_command
    from django.http import HttpRequest, HttpResponse
    from django.test.utils import override_settings
    from django.urls import include, path, reverse

    from tests import factories
    from trainer.base import clock
    from trainer.base.models import JournalEntry
    from trainer.exams import queries as exams
    from trainer.exams.cases import stored_case
    from trainer.exams.services import start_sitting
    from trainer.library import queries as library
    from trainer.library.services import adopt_specification, load_lessons
    from trainer.questions.sample_responses import right_response, wrong_response

    call_command("migrate", verbosity=0)
    call_command("createcachetable", verbosity=0)
    load_lessons(folder=settings.LESSONS_DIR)
    company = factories.CompanyFactory.create()
    adopt_specification(company=company, revision=library.revisions()[0], on=company.today())
    member = factories.member(company)
    sitting = start_sitting(
        company=company, account=member.account, module="base-sheet-layout", language=member.account.language
    )
    client = factories.client_for(member)
    sheets = exams.answered_sheets(sitting)

    @login_required
    def bare(request: HttpRequest) -> HttpResponse:
        JournalEntry.objects.create(at=clock.now(), verb="bare", subject=request.POST["text"])
        return HttpResponse("kept")

    import random
    import sys
    import types

    chance = random.Random(7)
    responses = {row.sheet.number: stored_case(row.sheet.evidence) for row in sheets}
    rounds = itertools.count()

    def form(number: int) -> dict[str, Any]:
        case = responses[number]
        answer = (right_response, lambda one: wrong_response(one, chance))[next(rounds) // len(sheets) % 2](case)
        fields: dict[str, Any] = {"send": str(uuid4()), "go": "next"}
        for name, value in answer.items():
            if name == "order":
                fields.update({f"place-{step}": str(place) for place, step in enumerate(value, start=1)})
            else:
                fields[name] = value
        return fields

    def save(number: int) -> None:
        answer = client.post(reverse("exam-sheet", kwargs={"ref": sitting.ref, "number": number}), form(number))
        assert answer.status_code in (200, 302), answer.status_code

    def rate(act: Any, times: int) -> float:
        start = time.perf_counter()
        for number in range(times):
            act(number % len(sheets) + 1)
        return times / (time.perf_counter() - start)

    urls = types.ModuleType("tests_load_urls")
    urls.urlpatterns = [path("bare/", bare), path("", include("trainer.urls"))]  # type: ignore[attr-defined]
    sys.modules["tests_load_urls"] = urls
    with override_settings(ROOT_URLCONF="tests_load_urls"):
        rate(save, 20)
        rate(lambda number: client.post("/bare/", {"text": str(number)}), 20)
        ours = rate(save, 200)
        theirs = rate(lambda number: client.post("/bare/", {"text": str(number)}), 200)
    print(f"exam answers saved: {ours:,.0f} a second")
    print(f"  bare signed-in view, one INSERT: {theirs:,.0f} a second; ratio {theirs / ours:.1f}")


if __name__ == "__main__":
    main()
