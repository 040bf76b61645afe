"""A person's own records."""

from uuid import UUID

from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from trainer.people.access import MemberRequest, page
from trainer.people.models import Role
from trainer.records import queries
from trainer.records.models import CompletionRecord
from trainer.records.showing import sheet_of
from trainer.records.views.answers import paper_answer

OWN = (Role.TRAINEE, Role.FOREMAN, Role.TRAINER, Role.EVALUATOR, Role.OFFICE, Role.ADMINISTRATOR)


@require_safe
@page(*OWN)
def my_record(request: MemberRequest) -> HttpResponse:
    """List what the member holds and held, and how each stands today."""
    return render(request, "records/my_record.html", {"lines": queries.own_lines(request.member)})


@require_safe
@page(*OWN)
def own_record(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show one of the member's own records as a sheet."""
    return render(request, "records/record.html", {"sheet": sheet_of(_own(request, ref)), "own": True})


@require_safe
@page(*OWN)
def own_record_pdf(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Give one of the member's own records on paper."""
    return paper_answer(request, _own(request, ref))


def _own(request: MemberRequest, ref: UUID) -> CompletionRecord:
    record = queries.own_record(request.member, ref)
    if record is None:
        raise Http404
    return record
