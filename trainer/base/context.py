"""What every page's template gets: the member, the menu of the member's roles, and the other language."""

from typing import Any

from django.http import HttpRequest

from trainer.base.menu import menu_for


def page(request: HttpRequest) -> dict[str, Any]:
    """Give the page skeleton its member (None for strangers) and the menu built for it."""
    member = getattr(request, "member", None)
    return {"member": member, "menu": menu_for(member, request.path) if member is not None else []}
