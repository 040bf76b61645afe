"""Objects of people that addresses name."""

from typing import Any

from allauth.mfa.models import Authenticator

from tests.access.world import World
from trainer.people import services


def make(world: World) -> dict[str, Any]:
    """Make a card of the trainee, and a passkey that belongs to nobody of the own company's roles."""
    trainee = world.members["trainee"].account
    card, _token = services.make_card(company=world.company, account=trainee, by=None)
    _open_card, token = services.make_card(company=world.company, account=trainee, by=None)
    passkey = Authenticator.objects.create(
        user=world.other_foreman.account, type=Authenticator.Type.WEBAUTHN, data={"name": "x"}
    )
    return {
        "person": trainee,
        "crew": world.crew,
        "card": card,
        "card_token": token,
        "passkey": passkey.pk,
        "reset_user": "1",
        "reset_key": "expired",
    }
