"""Sign-in cards as staff handle them: print a sheet, copy a message link, end a card."""

from typing import Any
from uuid import UUID

import segno
from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from trainer.base.errors import Refused
from trainer.people import queries, services
from trainer.people.access import MemberRequest, page
from trainer.people.models import Role

MAY_MAKE = (Role.FOREMAN, Role.TRAINER, Role.OFFICE, Role.ADMINISTRATOR)


@page(*MAY_MAKE)
def cards(request: MemberRequest) -> HttpResponse:
    """Choose people, then show the sheet of their new cards to print, eight to a page."""
    member = request.member
    if request.method == "POST":
        chosen = queries.people_for_cards(member, request.POST.getlist("person"))
        if chosen:
            return _sheet(request, [person.account for person in chosen])
    context = {
        "people": queries.people_for_cards(member, crew=request.GET.get("crew", "")),
        "crews": [crew for crew, _places in queries.crews(member)],
        "crew": request.GET.get("crew", ""),
        "nobody_chosen": request.method == "POST",
    }
    return render(request, "people/cards.html", context, status=422 if request.method == "POST" else 200)


@require_POST
@page(*MAY_MAKE)
def card_new(request: MemberRequest, ref: UUID) -> HttpResponse:
    """Make a card for one person and show it with its message link; the link is shown this once."""
    found = queries.person(request.member, ref)
    if found is None:
        raise Http404
    return _sheet(request, [found.account])


@require_POST
@page(*MAY_MAKE)
def card_end(request: MemberRequest, ref: UUID) -> HttpResponse:
    """End a card and sign its phone out."""
    card = queries.card(request.member, ref)
    if card is None:
        raise Http404
    try:
        services.end_card(card=card, by=request.member.account)
    except Refused as refused:
        raise Http404 from refused
    return redirect("person", company=request.member.company.slug, ref=card.account.ref)


def _sheet(request: MemberRequest, accounts: list[Any]) -> HttpResponse:
    made = []
    for account in accounts:
        try:
            card, token = services.make_card(company=request.member.company, account=account, by=request.member.account)
        except Refused as refused:
            raise Http404 from refused
        link = absolute(request, reverse("card", kwargs={"token": token}))
        picture = segno.make(link, error="m").svg_data_uri(scale=4, border=2)
        made.append({"card": card, "account": account, "link": link, "picture": picture})
    return render(request, "people/card_sheet.html", {"made": made})


def absolute(request: HttpRequest, path: str) -> str:
    """Give the whole address of a path: the public one in production, else the one that the browser used."""
    return f"{settings.ORIGIN}{path}" if settings.PRODUCTION else request.build_absolute_uri(path)
