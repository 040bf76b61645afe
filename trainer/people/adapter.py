"""Staff sign-in: nobody registers by themselves."""

from typing import Any

from allauth.account.adapter import DefaultAccountAdapter
from django.http import HttpRequest


class StaffAdapter(DefaultAccountAdapter):
    """Close registration; the office adds people."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Refuse registration."""
        return False

    def populate_username(self, request: HttpRequest, user: Any) -> None:
        """Do nothing: accounts have no user name."""
