"""The first pages: strangers, trainees, trainers; whoever has a place in several companies chooses."""

from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from trainer.home import queries
from trainer.people.access import CARD, MemberRequest, card_was_ended, page
from trainer.people.models import Role
from trainer.people.queries import place_offers


@require_safe
@never_cache
def index(request: HttpRequest) -> HttpResponse:
    """Send everybody to the own first page; show strangers where to sign in and where to check a record.

    Who works for several companies chooses one, once a sign-in; my settings change it.
    """
    if card_was_ended(request):
        request.session.flush()  # or the page that signs in would send this phone back here
        request.user = AnonymousUser()
    if not request.user.is_authenticated:
        return render(request, "home/strangers.html")
    account = request.user
    places = queries.places_of(account)
    chosen = [place for place in places if str(place["company"].ref) == request.session.get("company")]
    if CARD in request.session:  # whoever made the card need not know where else its person works
        places = chosen
    if chosen:
        return redirect(chosen[0]["url"])
    offers = [] if CARD in request.session else place_offers(account, unanswered=bool(places))
    if len(places) == 1 and not offers:
        return redirect(places[0]["url"])
    return render(request, "home/places.html", {"places": places, "offers": offers})


@require_safe
@page(Role.TRAINEE)
def today(request: MemberRequest) -> HttpResponse:
    """Show a trainee what is for today."""
    return render(request, "home/today.html", {"tasks": queries.tasks_for(request.member)})


@require_safe
@page(Role.TRAINER, Role.EVALUATOR)
def trainer_day(request: MemberRequest) -> HttpResponse:
    """Show a trainer what falls due and who is on which crew."""
    context = {"lines": queries.assignment_lines(request.member), "crews": queries.crews_with_people(request.member)}
    return render(request, "home/trainer_day.html", context)
