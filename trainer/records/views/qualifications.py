"""Qualifications: what they take, since when, and the button that issues their records."""

from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from trainer.base.errors import Refused
from trainer.people.access import MemberRequest, page
from trainer.people.models import Role
from trainer.records import queries, services
from trainer.records.forms import DefinitionForm, IssueForm, refuse
from trainer.records.models import Qualification

SEES = (Role.TRAINER, Role.OFFICE, Role.ADMINISTRATOR)
ISSUES = (Role.TRAINER, Role.OFFICE)


@require_safe
@page(*SEES)
def qualifications(request: MemberRequest) -> HttpResponse:
    """List the company's qualifications and what each takes today."""
    context = {"lines": queries.qualification_lines(request.member), "may_define": request.member.has(*ISSUES)}
    return render(request, "records/qualifications.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@page(*ISSUES)
def qualification_new(request: MemberRequest) -> HttpResponse:
    """Make a qualification with its first definition."""
    return _define(request, None)


@require_safe
@page(*SEES)
def qualification(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show what a qualification takes, its definitions, and who may be given it."""
    found = _visible(request, ref)
    definition = queries.definition_in_force(found, on=request.member.today)
    context = {
        "qualification": found,
        "definition": definition,
        "definitions": queries.definitions_of(found),
        "titles": queries.module_titles(),
        "candidates": queries.candidates(found, definition, on=request.member.today),
        "may_issue": request.member.has(*ISSUES),
    }
    return render(request, "records/qualification.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@page(*ISSUES)
def definition_new(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Publish what a qualification takes from a day on."""
    return _define(request, _visible(request, ref))


@require_POST
@page(*ISSUES)
def issue(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Issue the qualification to a person who holds all that it takes."""
    found = _visible(request, ref)
    form = IssueForm(request.POST, company=request.member.company)
    if not form.is_valid():
        messages.error(request, _("Choose a person of the company."))
        return redirect("qualification", company=request.member.company.slug, ref=found.ref)
    try:
        record = services.issue_qualification(
            qualification=found, account=form.cleaned_data["person"], by=request.member.account
        )
    except Refused as refused:
        messages.error(request, str(refused.message))
        return redirect("qualification", company=request.member.company.slug, ref=found.ref)
    messages.success(request, _("Issued: record %(serial)s.") % {"serial": record.serial})
    return redirect("record", company=request.member.company.slug, ref=record.ref)


def _define(request: MemberRequest, found: Qualification | None) -> HttpResponse:
    latest = None if found is None else queries.definition_in_force(found, on=request.member.today)
    form = DefinitionForm(
        request.POST or None, modules=queries.module_titles(), latest=latest, today=request.member.today
    )
    if form.is_valid():
        try:
            definition = services.define_qualification(
                company=request.member.company, by=request.member.account, qualification=found, **form.cleaned_data
            )
        except Refused as refused:
            refuse(form, refused)
        else:
            messages.success(request, _("Published."))
            return redirect("qualification", company=request.member.company.slug, ref=definition.qualification.ref)
    return render(request, "records/definition.html", {"form": form, "qualification": found, "latest": latest})


def _visible(request: MemberRequest, ref: UUID) -> Qualification:
    found = queries.visible_qualification(request.member, ref)
    if found is None:
        raise Http404
    return found
