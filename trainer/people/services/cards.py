"""Sign-in cards: made by staff, used up once by a phone, ended by staff."""

from datetime import timedelta

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from trainer.base import clock, ids, journal
from trainer.base.canonical import sha256_hex
from trainer.base.errors import Refused
from trainer.people.access import CARD_ROLES, Member, account_ids_visible_to, member_of
from trainer.people.card_ends import has_ended
from trainer.people.models import Account, CardEnd, CardUse, Company, Role, SignInCard

GOOD_DAYS = 30  # how long a card that nobody has used stays good
PHONE_DAYS = 90  # how long a phone stays signed in
MAKERS = frozenset({Role.TRAINER.value, Role.OFFICE.value, Role.ADMINISTRATOR.value})


@transaction.atomic
def make_card(
    *, company: Company, account: Account, by: Account | None, good_days: int = GOOD_DAYS
) -> tuple[SignInCard, str]:
    """Make a card for a person and give it with its token, which is kept nowhere else.

    Cards that were made before and never used are ended: one good card lies about at a time.
    """
    member = member_of(account, company)
    if member is None or member.roles.isdisjoint(CARD_ROLES):
        raise Refused(_("Cards are for trainees and foremen of the company; others sign in by e-mail."))
    if by is not None:
        _refuse_maker(member_of(by, company), member)
        for unused in SignInCard.objects.filter(company=company, account=account, use__isnull=True, end__isnull=True):
            CardEnd.objects.create(card=unused, ended_by=by)
    token = ids.new_token()
    card = SignInCard.objects.create(
        company=company,
        account=account,
        token_digest=sha256_hex(token),
        made_by=by,
        made_at=clock.now(),
        good_until=clock.now() + timedelta(days=good_days),
    )
    journal.write("card-made", card, by=by, company=company, account=account.ref)
    return card, token


def find_card(token: str) -> SignInCard:
    """Give the card of a token, while it can still sign a phone in.

    Raises:
        Refused: The card is unknown, used, ended, too old, or its person has left; says what to do.
    """
    cards = SignInCard.objects.select_related("account", "company", "use", "end")
    card = cards.filter(token_digest=sha256_hex(token)).first()
    if card is None:
        raise Refused(_("This link belongs to no card. Scan the card again, or ask your foreman for a new one."))
    if has_ended(card):
        raise Refused(_("This card was ended. Ask your foreman or trainer for a new one."))
    if hasattr(card, "use"):
        raise Refused(_("This card was already used on a phone. Ask your foreman or trainer for a new one."))
    if card.good_until < clock.now():
        raise Refused(_("This card is too old. Ask your foreman or trainer for a new one."))
    member = member_of(card.account, card.company)
    if member is None or member.roles.isdisjoint(CARD_ROLES) or not card.account.is_active:
        raise Refused(_("This card's person no longer belongs to the company. Ask the office."))
    return card


def use_card(*, token: str) -> SignInCard:
    """Use a card up, once, and give it; of two phones at the same instant one is refused."""
    card = find_card(token)
    try:
        with transaction.atomic():
            CardUse.objects.create(card=card, used_at=clock.now())
            journal.write("card-used", card, by=card.account, company=card.company)
    except IntegrityError:
        raise Refused(_("This card was already used on a phone. Ask your foreman or trainer for a new one.")) from None
    return card


@transaction.atomic
def end_card(*, card: SignInCard, by: Account) -> None:
    """End a card and sign out the phone that it signed in; ending it again changes nothing."""
    SignInCard.objects.select_for_update().get(pk=card.pk)
    member = member_of(card.account, card.company)
    if member is not None:
        _refuse_maker(member_of(by, card.company), member)
    if not CardEnd.objects.filter(card=card).exists():
        CardEnd.objects.create(card=card, ended_by=by, ended_at=clock.now())
        journal.write("card-ended", card, by=by, company=card.company)


def may_make_card(maker: Member, account_pk: int, roles: frozenset[str]) -> bool:
    """Tell whether the maker may make and end this person's cards.

    Trainers and the office may for everybody in the company; a foreman for the trainees of the own crews, not for
    another foreman.
    """
    if roles.isdisjoint(CARD_ROLES):
        return False
    if maker.has(*MAKERS):
        return True
    if not maker.has(Role.FOREMAN) or Role.FOREMAN in roles:
        return False
    visible = account_ids_visible_to(maker)
    return visible is None or account_pk in visible


def _refuse_maker(maker: Member | None, person: Member) -> None:
    if maker is None or not may_make_card(maker, person.account.pk, person.roles):
        raise Refused(_("You may make and end cards only for the trainees of your own crews."))
