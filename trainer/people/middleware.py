"""Choose each request's language: the account's own, else what the visitor picked, else what the browser asks for."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import translation

COOKIE = "language"


class LanguageMiddleware:
    """Activate the language for the request and say it in the answer."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request in its language."""
        language = chosen_language(request)
        with translation.override(language):
            request.LANGUAGE_CODE = language
            response = self.get_response(request)
            response.headers.setdefault("Content-Language", language)
        return response


def chosen_language(request: HttpRequest) -> str:
    """Give `en-us` or `es-us` for this request."""
    if request.user.is_authenticated:
        return str(request.user.language)
    picked = request.COOKIES.get(COOKIE, "")
    if picked in ("en-us", "es-us"):
        return picked
    return "es-us" if request.headers.get("Accept-Language", "").lower().startswith("es") else "en-us"
