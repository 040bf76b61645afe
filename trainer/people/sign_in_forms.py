"""The sign-in library's forms in our words: one label a field, no words inside the boxes that vanish when one types."""

import struct
from typing import Any

from allauth.account import forms as account
from allauth.mfa.base import forms as base
from allauth.mfa.totp import forms as totp
from allauth.mfa.webauthn import forms as webauthn
from django import forms
from django.core.exceptions import ValidationError
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


# What reading an answer raises that no device gives: numbers of thousands of digits, lists in lists in lists, bytes cut
# short, no key where one is due. The library expects few of these.
UNREADABLE = (
    ArithmeticError,
    AssertionError,
    AttributeError,
    LookupError,
    RuntimeError,
    TypeError,
    ValueError,
    struct.error,
)


def unreadable_passkey() -> ValidationError:
    """Give the refusal of an answer that no device gives."""
    return ValidationError(_("What the passkey answered cannot be read. Try once more."), code="invalid")


class PasskeyField(forms.JSONField):
    """A device's answer, which is used once and never shown again."""

    widget = forms.HiddenInput

    def to_python(self, value: Any) -> Any:
        """Read the answer, an object of JSON whose texts can be written in UTF-8."""
        try:
            read = super().to_python(value)
            str(read).encode()
        except UNREADABLE:
            raise unreadable_passkey() from None
        if read is not None and not isinstance(read, dict):
            raise unreadable_passkey()
        return read

    def bound_data(self, data: Any, initial: Any) -> None:
        """Leave the field of a page that is shown again empty."""

    def prepare_value(self, value: Any) -> str:
        """Leave the field of a page empty."""
        return ""


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

    credential = PasskeyField()

    def clean(self) -> dict[str, Any]:
        """Refuse an answer that the library cannot read."""
        try:
            return dict(super().clean())
        except UNREADABLE:
            raise unreadable_passkey() from None


class PasskeyAnswer:
    """Refuse an answer that the library cannot read."""

    def clean_credential(self) -> Any:
        """Give the passkey that answered."""
        try:
            return super().clean_credential()  # type: ignore[misc]
        except UNREADABLE:
            raise unreadable_passkey() from None


class PasskeyForm(PasskeyAnswer, webauthn.AuthenticateWebAuthnForm):
    """Second step by passkey."""

    credential = PasskeyField()


class PasskeyAloneForm(PasskeyAnswer, webauthn.LoginWebAuthnForm):
    """Sign in by passkey alone."""

    credential = PasskeyField()


class PasskeyAgainForm(PasskeyAnswer, webauthn.ReauthenticateWebAuthnForm):
    """Confirm by passkey."""

    credential = PasskeyField()


class RenamePasskeyForm(InOurWords, webauthn.EditWebAuthnForm):
    """Rename a passkey."""
