"""The sign-in library's forms in our words: one label a field, no words inside the boxes that vanish when one types."""

from typing import Any

from allauth.account import forms as account
from allauth.mfa.base import forms as base
from allauth.mfa.totp import forms as totp
from allauth.mfa.webauthn import forms as webauthn
from django.utils.translation import gettext_lazy as _
from django.utils.translation import gettext_noop

LABELS = {
    "code": _("Code"),
    "email": _("E-mail address"),
    "login": _("E-mail address"),
    "name": _("Name of the passkey"),
    "oldpassword": _("Password until now"),
    "password": _("Password"),
    "password1": _("New password"),
    "password2": _("New password again"),
    "passwordless": _("Sign in with this passkey alone, without the password"),
}
gettext_noop("You must type the same password each time.")  # the library says it; its Spanish is too familiar
HELP = {
    "password1": _("At least 12 characters; a few words that only you would put together are easy to keep in mind."),
    "passwordless": _("The device then asks for your finger, your face or its own code."),
}


class InOurWords:
    """Relabel a form's fields."""

    fields: dict[str, Any]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, form_field in self.fields.items():
            form_field.widget.attrs.pop("placeholder", None)
            form_field.help_text = HELP.get(name, "")
            form_field.label = LABELS.get(name, form_field.label)


class LoginForm(InOurWords, account.LoginForm):
    """Sign in by e-mail."""


class ChangePasswordForm(InOurWords, account.ChangePasswordForm):
    """Change the password."""


class ResetPasswordForm(InOurWords, account.ResetPasswordForm):
    """Ask for a link to choose a password."""


class ResetPasswordKeyForm(InOurWords, account.ResetPasswordKeyForm):
    """Choose a password by the link."""


class PasswordAgainForm(InOurWords, account.ReauthenticateForm):
    """Confirm by password."""


class CodeForm(InOurWords, base.AuthenticateForm):
    """Second step by code."""


class CodeAgainForm(InOurWords, base.ReauthenticateForm):
    """Confirm by code."""


class TurnOnAppForm(InOurWords, totp.ActivateTOTPForm):
    """Turn the second step on."""


class AddPasskeyForm(InOurWords, webauthn.AddWebAuthnForm):
    """Add a passkey."""


class RenamePasskeyForm(InOurWords, webauthn.EditWebAuthnForm):
    """Rename a passkey."""
