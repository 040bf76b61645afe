"""Answers that no passkey gives: each is refused in words, and no page falls over."""

import base64
import hashlib
import json
from collections.abc import Callable

import pytest
from allauth.mfa.models import Authenticator
from cryptography.hazmat.primitives.asymmetric import ec
from django.test import Client
from django.urls import reverse
from fido2.cose import ES256
from fido2.webauthn import AttestationObject, AttestedCredentialData, AuthenticatorData

from tests.factories import PASSWORD, client_for
from trainer.people.access import Member

pytestmark = pytest.mark.django_db

LONG_NUMBER = "9" * 5_000  # Python refuses to turn more than 4,300 digits into a number


def websafe(content: bytes) -> str:
    """Give bytes as Web Authentication writes them: base64url without padding (W3C, section 3)."""
    return base64.urlsafe_b64encode(content).decode().rstrip("=")


def answer(client_data: bytes = b"{}", attestation: bytes = b"\xa0", **more: object) -> str:
    """Give an answer that has every part, with the inside of some of them chosen."""
    response = {
        "clientDataJSON": websafe(client_data),
        "attestationObject": websafe(attestation),
        "authenticatorData": websafe(bytes(37)),
        "signature": "AAAA",
        "userHandle": websafe(b"1"),
    }
    return json.dumps({"id": "AAAA", "rawId": "AAAA", "type": "public-key", "response": {**response, **more}})


ANSWERS = {
    "long number": LONG_NUMBER,
    "long number inside": f'{{"id": {LONG_NUMBER}}}',
    "long number in the client's data": answer(f'{{"type": {LONG_NUMBER}}}'.encode()),
    "long number as user": answer(userHandle=websafe(LONG_NUMBER.encode())),
    "list in list in list": "[" * 100_000,
    "no object": "[1]",
    "no part": '{"id": "AAAA"}',
    "two names": '{"id": "AAAA", "rawId": "BBBB"}',
    "half of a letter": '{"id": "\\ud800"}',
    "no text": answer(b"\xff\xfe"),
    "nothing attested": answer(attestation=b""),
    "cut short": answer(attestation=b"\xbf\x1b"),
    "list in list in list of bytes": answer(attestation=b"\x81" * 50_000),
}


def give_passkey(office: Member) -> None:
    """Give the office a passkey that nobody has in hand."""
    key = ES256.from_cryptography_key(ec.generate_private_key(ec.SECP256R1()).public_key())
    data = AuthenticatorData.create(
        bytes(32), AuthenticatorData.FLAG(0x41), 0, AttestedCredentialData.create(bytes(16), b"key", key)
    )
    attested = bytes(AttestationObject.create("none", data, {}))
    credential = json.loads(answer(b'{"type":"","challenge":"","origin":""}', attested))
    Authenticator.objects.create(
        user=office.account, type=Authenticator.Type.WEBAUTHN, data={"name": "Phone", "credential": credential}
    )


def adding(office: Member) -> tuple[Client, str]:
    """Give a client on the page that adds a passkey."""
    client = client_for(office)
    return client, reverse("mfa_add_webauthn")


def signing_in(_office: Member) -> tuple[Client, str]:
    """Give a stranger who signs in by passkey alone."""
    return Client(headers={"X-Requested-With": "XMLHttpRequest"}), reverse("mfa_login_webauthn")


def second_step(office: Member) -> tuple[Client, str]:
    """Give a client that has given its password and is asked for the second step."""
    give_passkey(office)
    client = Client()
    client.post(reverse("account_login"), {"login": office.account.email, "password": PASSWORD})
    return client, reverse("mfa_authenticate")


def confirming(office: Member) -> tuple[Client, str]:
    """Give a client that is asked who it is once more."""
    give_passkey(office)
    return client_for(office), reverse("mfa_reauthenticate_webauthn")


@pytest.mark.parametrize("credential", ANSWERS.values(), ids=ANSWERS.keys())
@pytest.mark.parametrize("asked", [adding, signing_in, second_step, confirming])
def test_it_refuses_an_answer_that_no_passkey_gives(
    asked: Callable[[Member], tuple[Client, str]], credential: str, office: Member
) -> None:
    """Whoever sends it is told so on the page that they are led to, and nobody is signed in."""
    client, url = asked(office)
    keys = Authenticator.objects.count()
    assert client.get(url).status_code == 200
    page = client.post(url, {"credential": credential, "name": "Phone"}, follow=True)

    assert page.status_code == 200
    said = page.content.decode()
    assert "What the passkey answered cannot be read" in said or "This code is not right" in said
    assert Authenticator.objects.count() == keys
    assert asked in (adding, confirming) or client.get(reverse("my-settings")).status_code == 302


def test_it_refuses_to_add_a_passkey_without_a_key(office: Member) -> None:
    """An answer right in all else but with no key in it (W3C, section 6.1: flag AT not set) is refused in words."""
    client, url = adding(office)
    client.get(url)
    challenge = client.session["mfa.webauthn.state"]["challenge"]
    told = {"type": "webauthn.create", "challenge": challenge, "origin": "http://testserver"}
    data = AuthenticatorData.create(hashlib.sha256(b"testserver").digest(), AuthenticatorData.FLAG.UP, 0)
    credential = answer(json.dumps(told).encode(), bytes(AttestationObject.create("none", data, {})))
    page = client.post(url, {"credential": credential, "name": "Phone"})

    assert page.status_code == 200
    assert "This code is not right" in page.content.decode()  # the library reads it again, for a new challenge
    assert not Authenticator.objects.exists()
