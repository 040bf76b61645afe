"""Staff sign-in in our words; nobody registers by themselves."""

from typing import Any

from allauth.account.adapter import DefaultAccountAdapter
from allauth.mfa.adapter import DefaultMFAAdapter
from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

AGAIN = {
    "reauthenticate": gettext_lazy("With the password"),
    "mfa_reauthenticate": gettext_lazy("With the app or a recovery code"),
    "mfa_reauthenticate:webauthn": gettext_lazy("With a passkey"),
}


class StaffAdapter(DefaultAccountAdapter):
    """Close registration; the office adds people."""

    error_messages = {  # noqa: RUF012  the library's own attribute
        **DefaultAccountAdapter.error_messages,
        "account_inactive": gettext_lazy("This account is closed. Ask the office of your company."),
        "email_password_mismatch": gettext_lazy("Address and password do not go together. Look at both and try again."),
        "enter_current_password": gettext_lazy("This is not the password until now."),
        "incorrect_password": gettext_lazy("This is not your password. Try again."),
        "too_many_login_attempts": gettext_lazy("Too many tries. Wait a few minutes, then try again."),
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Refuse registration."""
        return False

    def populate_username(self, request: HttpRequest, user: Any) -> None:
        """Do nothing: accounts have no user name."""

    def get_reauthentication_methods(self, user: Any) -> list[dict[str, Any]]:
        """Give the ways to confirm who is there, in our words."""
        ways = super().get_reauthentication_methods(user)
        return [{**way, "description": AGAIN[way["id"]]} for way in ways]


class SecondStepAdapter(DefaultMFAAdapter):
    """The second step in our words."""

    error_messages = {  # noqa: RUF012  the library's own attribute
        **DefaultMFAAdapter.error_messages,
        "incorrect_code": gettext_lazy("This code is not right, or it is not good any more. Take a fresh one."),
        "cannot_generate_recovery_codes": gettext_lazy("Recovery codes need an app or a passkey first."),
    }

    def generate_authenticator_name(self, user: Any, type: Any) -> str:  # noqa: A002  the library's own name
        """Give a new passkey a name that the person can change."""
        return _("Passkey")
