"""Pages of the person who sits: the list, the start, the sheets, the table at the end, the result."""

from typing import cast
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trainer.base import ids
from trainer.base.errors import Refused
from trainer.exams import queries, services, showing
from trainer.exams.forms import SendForm, StartForm
from trainer.exams.models import Sitting
from trainer.library.responses import read_response
from trainer.people.access import MemberRequest, page
from trainer.people.models import Account, Role
from trainer.people.services import change_language


@require_safe
@page(Role.TRAINEE)
def exams(request: MemberRequest) -> HttpResponse:
    """List what may be sat, what is open, what came of the last sitting, and when another may start."""
    services.end_overdue(company=request.member.company, account=request.member.account)
    return render(request, "exams/exams.html", {"lines": queries.exam_lines(request.member)})


@require_http_methods(["GET", "HEAD", "POST"])
@page(Role.TRAINEE)
def start(request: MemberRequest, module: str) -> HttpResponse:
    """Say the rules; on POST open the sitting, or go on with the one that is open."""
    member = request.member
    services.end_overdue(company=member.company, account=member.account)
    line = next((line for line in queries.exam_lines(member) if line.plan.module == module), None)
    if line is None:
        raise Http404
    form = StartForm(request.POST or None, initial={"language": member.account.language})
    if request.method == "POST" and form.is_valid():
        language = form.cleaned_data["language"]
        if language != member.account.language:
            change_language(account=cast(Account, request.user), language=language)  # with it the account here
        try:
            sitting = services.start_sitting(
                company=member.company, account=member.account, module=module, language=language
            )
        except Refused as refused:
            form.add_error(None, str(refused.message))
        else:
            return redirect("exam-sheet", ref=sitting.ref, number=queries.first_blank(sitting))
    return render(request, "exams/start.html", {"line": line, "form": form, "language": member.language})


@require_http_methods(["GET", "HEAD", "POST"])
@page(Role.TRAINEE)
def sheet(request: MemberRequest, ref: UUID, number: int) -> HttpResponse:
    """Show one question of the sitting; on POST save the answer first, then go where the button says."""
    sitting = _own_sitting(request, ref)
    shown = showing.sheet_page(sitting, number, request.member.language)
    if shown is None:
        raise Http404
    if sitting.ended is not None and request.method != "POST":
        return redirect("exam-result", ref=ref)
    if request.method == "POST":
        return _save(request, sitting, shown)
    return _sheet_response(request, sitting, shown)


def _save(request: MemberRequest, sitting: Sitting, shown: showing.SheetPage) -> HttpResponse:
    form = SendForm(request.POST)
    if not form.is_valid():
        messages.error(request, _("The answer did not arrive whole. Enter it again."))
        return redirect("exam-sheet", ref=sitting.ref, number=shown.number)
    response = read_response(shown.kind, request.POST)
    try:
        services.save_answer(
            sitting=sitting,
            number=shown.number,
            send=form.cleaned_data["send"],
            response=response,
            language=request.member.account.language,
        )
    except Refused as refused:
        messages.error(request, str(refused.message))
        return redirect("exam-table", ref=sitting.ref)
    if request.headers.get("HX-Request"):
        saved = showing.sheet_page(sitting, shown.number, request.member.language)
        return render(
            request, "exams/saved.html", {"shown": saved, "saved_at": queries.saved_at(sitting, shown.number)}
        )
    return _onward(sitting, shown, form.cleaned_data["go"], request)


def _onward(sitting: Sitting, shown: showing.SheetPage, go: str, request: MemberRequest) -> HttpResponse:
    """Go where the button said; stay on a sheet whose answer cannot be read, so that it can be mended."""
    saved = showing.sheet_page(sitting, shown.number, request.member.language)
    if go == "next" and saved is not None and saved.problem:
        return redirect("exam-sheet", ref=sitting.ref, number=shown.number)
    target = {"back": shown.before, "next": shown.after}.get(go)
    if target is None:
        return redirect("exam-table", ref=sitting.ref)
    return redirect("exam-sheet", ref=sitting.ref, number=target)


def _sheet_response(request: MemberRequest, sitting: Sitting, shown: showing.SheetPage) -> HttpResponse:
    context = {
        "sitting": sitting,
        "shown": shown,
        "send": ids.new_ref(),
        "title": showing.module_title(sitting, request.member.language),
    }
    return render(request, "exams/sheet.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@page(Role.TRAINEE)
def table(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show which sheets are answered and which are blank; on POST end the exam and score it."""
    sitting = _own_sitting(request, ref)
    if request.method == "POST":
        services.end_sitting(sitting=sitting, by=request.member.account)
        return redirect("exam-result", ref=ref)
    if sitting.ended is not None:
        return redirect("exam-result", ref=ref)
    lines = showing.table_lines(sitting, request.member.language)
    context = {
        "sitting": sitting,
        "lines": lines,
        "blank": sum(line.is_blank for line in lines),
        "title": showing.module_title(sitting, request.member.language),
    }
    return render(request, "exams/table.html", context)


@require_safe
@page(Role.TRAINEE)
def result(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show what came of the sitting, by topic, and when another may start."""
    sitting = _own_sitting(request, ref)
    if sitting.scored is None:
        return redirect("exam-table", ref=ref)
    context = {
        "sitting": sitting,
        "score": sitting.scored,
        "result": showing.result_of(sitting, request.member.language),
        "title": showing.module_title(sitting, request.member.language),
        "language": request.member.language,
    }
    return render(request, "exams/result.html", context)


def _own_sitting(request: MemberRequest, ref: UUID) -> Sitting:
    """Fetch the member's own sitting and end it first when its time is up."""
    sitting = queries.own_sitting(request.member, ref)
    if sitting is not None and services.end_if_overdue(sitting):
        sitting = queries.own_sitting(request.member, ref)
    if sitting is None:
        raise Http404
    return sitting
