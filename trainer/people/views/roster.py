"""Take in a roster: send the file, look at what would be added, add all of it."""

from datetime import date
from typing import Any

from django.contrib import messages
from django.core import signing
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trainer.people import queries, services
from trainer.people.access import Member, MemberRequest, page
from trainer.people.forms import RosterForm
from trainer.people.services.roster_file import RosterRow
from trainer.people.services.roster_problem import RosterRefused
from trainer.people.services.roster_table import MOST_BYTES
from trainer.people.views.people import MANAGE

PREVIEW_SECONDS = 60 * 60


@page(*MANAGE)
def roster(request: MemberRequest) -> HttpResponse:
    """Read the file that was sent and show every bad row, or what would be added with a button to add it."""
    if request.method == "POST" and "rows" in request.POST:
        return _add_all(request)
    form = RosterForm(request.POST or None, request.FILES or None, initial={"effective_from": request.member.today})
    if request.method == "POST" and form.is_valid():
        upload, day = form.cleaned_data["file"], form.cleaned_data["effective_from"]
        try:
            rows = services.read_roster(upload.name, upload.read(MOST_BYTES + 1))
        except RosterRefused as refused:
            return _form_page(request, form, refused.problems)
        return _preview(request, rows, day)
    return _form_page(request, form, [])


def _preview(request: MemberRequest, rows: list[RosterRow], day: date) -> HttpResponse:
    member = request.member
    problems = services.check_roster(member.company, rows, member.account, day)
    if problems:
        return _form_page(request, RosterForm(initial={"effective_from": day}), problems)
    context = {
        "rows": rows,
        "new_crews": queries.unknown_crews(member, [row.crew for row in rows]),
        "rows_text": signing.dumps([row.as_plain() for row in rows], salt=_salt(member), compress=True),
        "day": day,
    }
    return render(request, "people/roster_preview.html", context)


def _add_all(request: MemberRequest) -> HttpResponse:
    """Add the rows that the preview sent back, sealed by our key; the company may have changed, so look again."""
    member = request.member
    try:
        day = date.fromisoformat(request.POST.get("effective_from", ""))
        plain = signing.loads(request.POST["rows"], salt=_salt(member), max_age=PREVIEW_SECONDS)
    except (ValueError, signing.BadSignature):
        messages.error(request, _("The list was looked over too long ago, or in another company: send the file again."))
        return redirect("roster", company=member.company.slug)
    rows = [RosterRow(**{**row, "roles": tuple(row["roles"])}) for row in plain]
    try:
        added = services.import_roster(company=member.company, rows=rows, by=member.account, effective_from=day)
    except RosterRefused as refused:
        return _form_page(request, RosterForm(initial={"effective_from": day}), refused.problems)
    text = ngettext("%(count)d person was added.", "%(count)d people were added.", len(added))
    messages.success(request, text % {"count": len(added)})
    return redirect("people", company=member.company.slug)


def _salt(member: Member) -> str:
    return f"roster {member.company.ref} {member.account.ref}"


def _form_page(request: MemberRequest, form: RosterForm, problems: list[Any]) -> HttpResponse:
    refused = bool(problems) or bool(form.errors)
    return render(request, "people/roster.html", {"form": form, "problems": problems}, status=422 if refused else 200)
