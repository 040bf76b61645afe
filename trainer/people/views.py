"""Pages of people."""

from typing import cast

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from trainer.people import services
from trainer.people.middleware import COOKIE
from trainer.people.models import Account, Language


@require_POST
def language(request: HttpRequest) -> HttpResponse:
    """Switch the language, for the account where somebody is signed in and for this browser, and go back."""
    wanted = request.POST.get("language", "")
    back = request.POST.get("next", "/")
    if not url_has_allowed_host_and_scheme(back, allowed_hosts={request.get_host()}, require_https=request.is_secure()):
        back = "/"
    response = HttpResponseRedirect(back)
    if wanted in Language.values:
        if request.user.is_authenticated:
            services.change_language(account=cast(Account, request.user), language=wanted)
        response.set_cookie(
            COOKIE, wanted, max_age=60 * 60 * 24 * 365, httponly=True, samesite="Lax", secure=request.is_secure()
        )
    return response
