"""Crews: the list with who is on each, and one crew."""

from typing import Any
from uuid import UUID

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render

from trainer.base.errors import Refused
from trainer.people import queries, services
from trainer.people.access import STAFF, MemberRequest, page
from trainer.people.forms import CrewForm, PlaceForm
from trainer.people.models import Role
from trainer.people.views.people import MANAGE


@page(*STAFF)
def crews(request: MemberRequest) -> HttpResponse:
    """List the crews that the member may see."""
    context = {"crews": queries.crews(request.member), "may_manage": request.member.has(*MANAGE)}
    return render(request, "people/crews.html", context)


@page(*MANAGE)
def crew_new(request: MemberRequest) -> HttpResponse:
    """Make a crew."""
    form = CrewForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            made = services.make_crew(company=request.member.company, by=request.member.account, **form.cleaned_data)
        except Refused as refused:
            form.show(refused)
        else:
            return redirect("crew", company=request.member.company.slug, ref=made.ref)
    return render(request, "people/crew_new.html", {"form": form})


@page(*STAFF)
def crew(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show who is on a crew; the office places people on it."""
    member = request.member
    found = queries.crew(member, ref)
    if found is None:
        raise Http404
    may_manage = member.has(*MANAGE)
    if request.method == "POST" and not may_manage:
        raise Http404
    first: dict[str, Any] = {"effective_from": member.today}
    accounts = queries.account_choices(member)
    form = PlaceForm(request.POST or None, accounts=accounts, initial=first) if may_manage else None
    if request.method == "POST" and form is not None and form.is_valid():
        try:
            services.place_on_crew(crew=found, by=member.account, **form.cleaned_data)
        except Refused as refused:
            form.show(refused)
        else:
            return redirect("crew", company=member.company.slug, ref=ref)
    context = {
        "crew": found,
        "places": queries.crew_places(found, member.today),
        "form": form,
        "may_print": member.has(Role.FOREMAN, Role.TRAINER, *MANAGE),
    }
    return render(request, "people/crew.html", context)
