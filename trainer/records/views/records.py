"""Records as staff see them, their revocation, and the company's register."""

from uuid import UUID

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from trainer.base.errors import Refused
from trainer.people.access import STAFF, MemberRequest, page
from trainer.people.models import Role
from trainer.records import queries, services
from trainer.records.forms import RevocationForm, refuse
from trainer.records.models import CompletionRecord
from trainer.records.showing import sheet_of
from trainer.records.views.answers import paper_answer

MAY_REVOKE = (Role.TRAINER, Role.OFFICE)


@require_safe
@page(*STAFF)
def record(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show a record as a sheet."""
    found = _visible(request, ref)
    context = {
        "sheet": sheet_of(found),
        "may_revoke": found.revoked is None and request.member.has(*MAY_REVOKE),
        "reason": queries.sealed_text(found.revoked.reason_digest) if found.revoked else None,
    }
    return render(request, "records/record.html", context)


@require_safe
@page(*STAFF)
def record_pdf(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Give a record on paper."""
    return paper_answer(request, _visible(request, ref))


@require_http_methods(["GET", "HEAD", "POST"])
@page(*MAY_REVOKE)
def revocation(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Revoke a record for a reason."""
    found = _visible(request, ref)
    form = RevocationForm(request.POST or None)
    if form.is_valid():
        try:
            services.revoke(record=found, by=request.member.account, **form.cleaned_data)
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("The record is revoked. The register says so for good."))
            return redirect("record", company=request.member.company.slug, ref=found.ref)
    context = {"sheet": sheet_of(found), "form": form, "carried": queries.resting_on(found)}
    return render(request, "records/revocation.html", context)


@require_safe
@page(Role.OFFICE, Role.ADMINISTRATOR)
def register(request: MemberRequest) -> HttpResponse:
    """Show the company's register, the newest entry first, with its size and root."""
    search = request.GET.get("search", "").strip()
    entries = queries.register_entries(request.member.company, search=search)
    listed = Paginator(entries, 50).get_page(request.GET.get("page"))
    context = {
        "page": listed,
        "entries": queries.entry_lines(listed.object_list),
        "head": queries.register_head(request.member.company),
        "search": search,
        "query": urlencode({"search": search}) if search else "",
    }
    return render(request, "records/register.html", context)


def _visible(request: MemberRequest, ref: UUID) -> CompletionRecord:
    found = queries.visible_record(request.member, ref)
    if found is None:
        raise Http404
    return found
