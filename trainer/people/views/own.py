"""What everybody does for themself: choose the language, use a card, look at the own settings."""

from datetime import timedelta
from typing import cast
from uuid import UUID

from django.contrib.auth import login
from django.contrib.auth.views import redirect_to_login
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.utils import translation
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from trainer.base import clock
from trainer.base.errors import Refused
from trainer.people import queries, services
from trainer.people.access import CARD, MemberRequest, card_was_ended, page
from trainer.people.middleware import COOKIE, chosen_language
from trainer.people.models import Account, Language, Role, SignInCard
from trainer.people.services.cards import PHONE_DAYS


@require_POST
def language(request: HttpRequest) -> HttpResponse:
    """Switch the language, for the account where somebody is signed in and for this browser, and go back."""
    wanted = request.POST.get("language", "")
    back = request.POST.get("next", "/")
    if not url_has_allowed_host_and_scheme(back, allowed_hosts={request.get_host()}, require_https=request.is_secure()):
        back = "/"
    response = HttpResponseRedirect(back)
    if wanted in Language.values:
        if request.user.is_authenticated and not card_was_ended(request):
            services.change_language(account=request.user, language=wanted)
        response.set_cookie(
            COOKIE, wanted, max_age=60 * 60 * 24 * 365, httponly=True, samesite="Lax", secure=request.is_secure()
        )
    return response


@never_cache
@require_http_methods(["GET", "POST"])
def card(request: HttpRequest, token: str) -> HttpResponse:
    """Show whose card it is and a button; the button uses the card up and signs this phone in.

    The page speaks its person's language, unless another was picked on this phone; the account then keeps that one.
    """
    try:
        if request.method != "POST":
            return _card_page(request, services.find_card(token))
        found = services.use_card(token=token)
    except Refused as refused:
        return render(request, "people/card.html", {"message": refused.message}, status=410)
    _sign_phone_in(request, found)
    return redirect("/")


@page(*Role.values)
def my_settings(request: MemberRequest) -> HttpResponse:
    """Show the own settings: language, sign-in, and the companies to work in."""
    by_card = CARD in request.session
    account = cast(Account, request.user)
    context = {
        "by_card": by_card,
        "companies": [] if by_card else queries.companies_of(account),
        "offers": [] if by_card else queries.place_offers(account),
    }
    return render(request, "people/my_settings.html", context)


@require_POST
@page(*Role.values)
def company_choice(request: MemberRequest) -> HttpResponse:
    """Work in another of the own companies from now on."""
    chosen = {str(company.ref): company for company in queries.companies_of(cast(Account, request.user))}
    company = chosen.get(request.POST.get("company", ""))
    if company is None or CARD in request.session:
        raise Http404
    request.session["company"] = str(company.ref)
    return redirect("/")


@require_POST
@never_cache
def place_answer(request: HttpRequest, ref: UUID) -> HttpResponse:
    """Tell a company that added somebody under the own address whether that is oneself; a card may not say so."""
    if not request.user.is_authenticated:
        return redirect_to_login("/")
    offer = None if CARD in request.session else queries.place_offer(request.user, ref)
    if offer is None:
        raise Http404
    services.answer_place(company_account=offer, yes=request.POST.get("answer") == "yes")
    return redirect("/")


def _card_page(request: HttpRequest, card: SignInCard) -> HttpResponse:
    language = chosen_language(request) if COOKIE in request.COOKIES else card.account.language
    with translation.override(language):
        page = render(request, "people/card.html", {"card": card})
    page.headers["Content-Language"] = language
    return page


def _sign_phone_in(request: HttpRequest, card: SignInCard) -> None:
    picked = chosen_language(request)
    login(request, card.account, backend="django.contrib.auth.backends.ModelBackend")
    request.session["company"] = str(card.company.ref)
    request.session[CARD] = str(card.ref)
    request.session.set_expiry(clock.now() + timedelta(days=PHONE_DAYS))
    if COOKIE in request.COOKIES:  # picked on the card's own page, just now or before
        services.change_language(account=card.account, language=picked)
