"""Addresses that no page of ours has."""

from collections.abc import Callable

from django.http import Http404, HttpRequest, HttpResponse


class NoNulMiddleware:
    """Answer an address that holds a NUL with 404: nothing has it in its name, and PostgreSQL refuses to look."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request."""
        if "\x00" in request.path or "%00" in request.META.get("QUERY_STRING", ""):
            raise Http404
        return self.get_response(request)
