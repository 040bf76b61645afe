"""Objects of people that addresses name."""

from typing import Any

from allauth.mfa.models import Authenticator

from tests.access.world import World
from tests.factories import AccountFactory
from trainer.people import services
from trainer.people.models import CompanyAccount


def make(world: World) -> dict[str, Any]:
    """Make a card of the trainee, and a passkey and an offered place of nobody of the own company's roles."""
    trainee = world.members["trainee"].account
    card, _token = services.make_card(company=world.company, account=trainee, by=None)
    _open_card, token = services.make_card(company=world.company, account=trainee, by=None)
    passkey = Authenticator.objects.create(
        user=world.other_foreman.account, type=Authenticator.Type.WEBAUTHN, data={"name": "x"}
    )
    elsewhere = AccountFactory.create()
    office = world.members["office"].account
    offered = services.add_person(
        company=world.company, name="Known Elsewhere", email=elsewhere.email, roles=["trainer"], by=office
    )
    return {
        "place_offer": CompanyAccount.objects.get(account=offered),
        "person": trainee,
        "crew": world.crew,
        "card": card,
        "card_token": token,
        "passkey": passkey.pk,
        "reset_user": "1",
        "reset_key": "expired",
    }
