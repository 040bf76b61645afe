"""The company's people: the list, one person, and what changes about a person."""

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from trainer.base.errors import Refused
from trainer.people import queries, services
from trainer.people.access import STAFF, MemberRequest, page
from trainer.people.forms import EndForm, PersonForm, PlaceForm, RolesForm
from trainer.people.models import Role

MANAGE = (Role.OFFICE, Role.ADMINISTRATOR)


@page(*STAFF)
def people(request: MemberRequest) -> HttpResponse:
    """List the people whom the member may see, 50 a page, with one search field."""
    filters = {name: request.GET.get(name, "") for name in ("search", "role", "crew")}
    context = {
        "page": queries.people_page(request.member, **filters, number=request.GET.get("page", "1")),
        "query": urlencode({name: value for name, value in filters.items() if value}),
        "crews": [crew for crew, _places in queries.crews(request.member)],
        "roles": Role.choices,
        "may_manage": request.member.has(*MANAGE),
        **filters,
    }
    return render(request, "people/people.html", context)


@page(*MANAGE)
def person_new(request: MemberRequest) -> HttpResponse:
    """Add somebody to the company."""
    member = request.member
    crews = queries.crew_choices(member)
    first = {"effective_from": member.today, "roles": [Role.TRAINEE]}
    form = PersonForm(request.POST or None, crews=crews, initial=first)
    if request.method == "POST" and form.is_valid():
        try:
            ref = _add(member, **form.cleaned_data)
        except Refused as refused:
            form.show(refused)
        else:
            return redirect("person", company=member.company.slug, ref=ref)
    return render(request, "people/person_new.html", {"form": form})


@page(*STAFF)
def person(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Show one person: roles, crews, cards, and what the person was before."""
    return render(request, "people/person.html", _person_page(request, ref))


@page(*MANAGE)
def person_roles(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Change what a person does in the company, from a day on."""
    found = _person(request, ref)
    first = {
        "roles": found.membership.roles.split(),
        "number": found.membership.number,
        "effective_from": request.member.today,
    }
    form = RolesForm(request.POST or None, initial=first)
    if request.method == "POST" and form.is_valid():
        try:
            services.change_roles(
                company=request.member.company, account=found.account, by=request.member.account, **form.cleaned_data
            )
        except Refused as refused:
            form.show(refused)
        else:
            return redirect("person", company=request.member.company.slug, ref=ref)
    return render(request, "people/person_roles.html", {"person": found, "form": form})


@page(*MANAGE)
def person_end(request: MemberRequest, ref: UUID) -> HttpResponse:
    """End a person's membership from a day on."""
    found = _person(request, ref)
    form = EndForm(request.POST or None, initial={"effective_from": request.member.today})
    if request.method == "POST" and form.is_valid():
        try:
            services.end_membership(
                company=request.member.company, account=found.account, by=request.member.account, **form.cleaned_data
            )
        except Refused as refused:
            form.show(refused)
        else:
            messages.success(request, _("The membership ends; everything recorded so far stays."))
            return redirect("people", company=request.member.company.slug)
    return render(request, "people/person_end.html", {"person": found, "form": form})


@require_POST
@page(*MANAGE)
def person_crew(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Place a person on a crew, or take the person off it, from a day on."""
    found = _person(request, ref)
    form = PlaceForm(request.POST, crews=queries.crew_choices(request.member))
    if form.is_valid():
        try:
            services.place_on_crew(account=found.account, by=request.member.account, **form.cleaned_data)
        except Refused as refused:
            form.show(refused)
        else:
            return redirect("person", company=request.member.company.slug, ref=ref)
    return render(request, "people/person.html", _person_page(request, ref, form), status=422)


@transaction.atomic
def _add(member: Any, *, crew: Any, effective_from: Any, **person: Any) -> UUID:
    account = services.add_person(company=member.company, by=member.account, effective_from=effective_from, **person)
    if crew is not None:
        services.place_on_crew(crew=crew, account=account, by=member.account, effective_from=effective_from)
    return account.ref


def _person(request: MemberRequest, ref: UUID) -> queries.Person:
    found = queries.person(request.member, ref)
    if found is None:
        raise Http404
    return found


def _person_page(request: MemberRequest, ref: UUID, form: PlaceForm | None = None) -> dict[str, Any]:
    member, found = request.member, _person(request, ref)
    first = {"effective_from": member.today}
    return {
        "person": found,
        "history": queries.history(member, found.account),
        "cards": queries.cards(member, found.account),
        "may_manage": member.has(*MANAGE),
        "may_make_card": services.may_make_card(member, found.account.pk, found.membership.role_set),
        "place_form": form or PlaceForm(crews=queries.crew_choices(member), initial=first),
    }
