"""Staff sign-in: the library's flows behind our own pages, and nothing of the library's that we did not choose."""

import re
import time

import pytest
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.internal.auth import format_hotp_value, hotp_value, yield_hotp_counters_from_time
from django.core import mail
from django.test import Client
from django.urls import NoReverseMatch, reverse

from tests.factories import PASSWORD, client_for
from tests.inline import inline_parts
from trainer.people.access import Member
from trainer.people.urls import SIGN_IN

pytestmark = pytest.mark.django_db

PAGES = [
    "account_login",
    "account_logout",
    "account_inactive",
    "account_reauthenticate",
    "account_change_password",
    "account_reset_password",
    "account_reset_password_done",
    "account_reset_password_from_key_done",
    "mfa_index",
    "mfa_activate_totp",
    "mfa_generate_recovery_codes",
    "mfa_list_webauthn",
    "mfa_add_webauthn",
    "mfa_edit_webauthn",
    "mfa_remove_webauthn",
]


def passkey_of(member: Member) -> Authenticator:
    """Give the member a passkey."""
    return Authenticator.objects.create(
        user=member.account, type=Authenticator.Type.WEBAUTHN, data={"name": "Phone", "credential": {}}
    )


def page_of(name: str, member: Member) -> tuple[Client, str]:
    """Give a client and the address for a page of sign-in; pages for strangers get a stranger."""
    strangers = ("account_login", "account_reset_password", "account_inactive", "account_reset_password_done")
    client = Client() if name in strangers else client_for(member)
    args = [passkey_of(member).pk] if name in ("mfa_edit_webauthn", "mfa_remove_webauthn") else []
    return client, reverse(name, args=args)


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("language", ["en-us", "es-us"])
def test_it_is_a_sheet_of_ours(name: str, language: str, office: Member, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each page stands in our skeleton, and the content security policy has nothing to refuse."""
    monkeypatch.setattr("allauth.mfa.models.Authenticator.wrap", lambda self: type("Key", (), {"name": "Phone"})())
    office.account.language = language
    office.account.save()
    client, url = page_of(name, office)
    client.cookies["language"] = language
    page = client.get(url)
    html = page.content.decode()
    assert page.status_code == 200
    assert '<div class="sheet">' in html
    assert f'<html lang="{language}">' in html
    assert inline_parts(html) == []
    assert "default-src 'self'" in page.headers["Content-Security-Policy"]


def test_it_signs_in_by_email_and_password(office: Member) -> None:
    """The right password leads to the first page."""
    client = Client()
    answer = client.post(reverse("account_login"), {"login": office.account.email, "password": PASSWORD})

    assert answer.headers["Location"] == "/"
    assert client.get(reverse("my-settings")).status_code == 200


def test_it_goes_on_to_the_page_that_was_asked_for(office: Member) -> None:
    """Signing in leads to where one wanted to go, never to another site."""
    wanted = reverse("people", args=[office.company.slug])
    asked = Client().get(wanted)
    assert asked.headers["Location"] == f"{reverse('account_login')}?next={wanted}"
    for place, leads_to in ((wanted, wanted), ("https://elsewhere.example/", "/")):
        answer = Client().post(
            reverse("account_login"), {"login": office.account.email, "password": PASSWORD, "next": place}
        )
        assert answer.headers["Location"] == leads_to


@pytest.mark.parametrize("address", ["known", "unknown"])
def test_it_does_not_tell_which_addresses_are_known(office: Member, address: str) -> None:
    """A wrong password and an unknown address get the same sentence."""
    login = office.account.email if address == "known" else "nobody@company.example"
    page = Client().post(reverse("account_login"), {"login": login, "password": "a wrong password"})

    assert "Address and password do not go together" in page.content.decode()


def test_it_stops_guessing(office: Member) -> None:
    """After some wrong passwords the right one is not listened to either, for a while."""
    client, url = Client(), reverse("account_login")
    for _ in range(10):
        client.post(url, {"login": office.account.email, "password": "a wrong password"})
    answer = client.post(url, {"login": office.account.email, "password": PASSWORD})

    assert answer.status_code in (200, 429)
    assert "Too many tries" in answer.content.decode()
    assert client.get(reverse("my-settings")).status_code == 302


def test_it_lets_somebody_choose_a_password_by_mail(office: Member) -> None:
    """The first password, and a forgotten one, come by the link in a message; the link works once."""
    office.account.set_unusable_password()
    office.account.save()
    Client().post(reverse("account_reset_password"), {"email": office.account.email})
    link = re.search(r"http://testserver(/\S+)", str(mail.outbox[0].body))
    assert link is not None
    chosen = {"password1": "four plain words here", "password2": "four plain words here"}
    client = Client()
    form = client.get(link[1], follow=True)
    client.post(form.request["PATH_INFO"], chosen)

    answer = Client().post(reverse("account_login"), {"login": office.account.email, "password": chosen["password1"]})
    again = Client().get(link[1], follow=True)

    assert answer.headers["Location"] == "/"
    assert "This link does not work" in again.content.decode()
    assert mail.outbox[0].subject == "Choose your password for roof training"


def test_it_writes_to_no_unknown_address() -> None:
    """A stranger cannot make the site send mail to anybody."""
    answer = Client().post(reverse("account_reset_password"), {"email": "nobody@company.example"})

    assert answer.headers["Location"] == reverse("account_reset_password_done")
    assert mail.outbox == []


@pytest.mark.parametrize("password", ["short", "password1234", "4711471147114711"])
def test_it_refuses_a_weak_password(office: Member, password: str) -> None:
    """At least 12 characters, not a common one, not digits alone."""
    client = client_for(office)
    data = {"oldpassword": PASSWORD, "password1": password, "password2": password}
    page = client.post(reverse("account_change_password"), data)

    office.account.refresh_from_db()

    assert page.status_code == 200
    assert office.account.check_password(PASSWORD)


def test_it_asks_for_a_code_once_the_app_is_on(office: Member) -> None:
    """Set-up shows a secret; from then on the password alone does not sign in; a code works once."""
    client = client_for(office)
    page = client.get(reverse("mfa_activate_totp"))
    secret = page.context["form"].secret
    assert f"<code>{secret}</code>" in page.content.decode()
    assert 'src="data:image/svg+xml' in page.content.decode()
    client.post(reverse("mfa_activate_totp"), {"code": code_of(secret)})
    codes = client.get(reverse("mfa_view_recovery_codes")).context["unused_codes"]

    phone = Client()
    half = phone.post(reverse("account_login"), {"login": office.account.email, "password": PASSWORD})
    assert half.headers["Location"].startswith(reverse("mfa_authenticate"))
    assert phone.get(reverse("my-settings")).status_code == 302
    wrong = phone.post(reverse("mfa_authenticate"), {"code": "000000"})
    assert "This code is not right" in wrong.content.decode()
    assert phone.post(reverse("mfa_authenticate"), {"code": codes[0]}).headers["Location"] == "/"
    assert phone.get(reverse("my-settings")).status_code == 200

    second = Client()
    second.post(reverse("account_login"), {"login": office.account.email, "password": PASSWORD})
    used = second.post(reverse("mfa_authenticate"), {"code": codes[0]})
    assert "This code is not right" in used.content.decode()


def code_of(secret: str) -> str:
    """Give the six digits that an app shows now for a secret (RFC 6238, as the library works them out)."""
    counter = next(iter(yield_hotp_counters_from_time()))
    return format_hotp_value(hotp_value(secret, counter))


def test_it_agrees_with_the_published_codes() -> None:
    """RFC 6238, appendix B, SHA-1 row for 59 seconds: 94287082, of which six digits are 287082."""
    secret = "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ"  # base32 of the appendix's "12345678901234567890"

    assert format_hotp_value(hotp_value(secret, 59 // 30)) == "287082"


def test_it_asks_again_before_a_change_to_sign_in(office: Member) -> None:
    """A phone left signed in cannot be used to take the account over."""
    client = Client()
    client.post(reverse("account_login"), {"login": office.account.email, "password": PASSWORD})
    session = client.session
    session["account_authentication_methods"] = [{"method": "password", "at": time.time() - 3600}]
    session.save()
    for name in ("mfa_activate_totp", "mfa_add_webauthn"):
        answer = client.get(reverse(name))
        assert answer.headers["Location"].startswith(reverse("account_reauthenticate"))


@pytest.mark.parametrize(
    "path", ["signup/", "email/", "confirm-email/", "password/set/", "login/code/", "signup/passkey/"]
)
def test_it_has_no_other_page_of_the_library(path: str, office: Member) -> None:
    """Registration, changing the address, codes by mail: not here."""
    assert client_for(office).get(f"/account/{path}").status_code == 404


def test_it_names_no_other_address_of_the_library() -> None:
    """The list of addresses is closed: what it does not name cannot be reached by name."""
    names = {pattern.name for pattern in SIGN_IN}
    for name in ("account_signup", "account_email", "account_set_password", "mfa_signup_webauthn"):
        assert name not in names
        with pytest.raises(NoReverseMatch):
            reverse(name)
