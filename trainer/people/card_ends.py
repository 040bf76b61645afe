"""When a sign-in card ended: by somebody's hand, or because its person left the company."""

from collections.abc import Iterable
from datetime import date

from trainer.base import clock
from trainer.people.models import Membership, SignInCard


def days_left(company_id: int, account_id: int) -> list[date]:
    """List the days, also those to come, from which the person no longer belonged to the company, as last entered."""
    rows = Membership.objects.filter(company=company_id, account=account_id)
    entered = rows.order_by("effective_from", "recorded_at", "pk").values_list("effective_from", "roles")
    return [day for day, roles in dict(entered).items() if not roles]


def left_on(card: SignInCard, days: Iterable[date]) -> date | None:
    """Give the first of the days from the day on which the card was made to today; None when there is none.

    Whoever comes back gets a new card: the old one, and the phone that it signed in, may be in anybody's hands.
    """
    made, today = clock.day_in(card.company.time_zone, card.made_at), card.company.today()
    return next((day for day in days if made <= day <= today), None)


def has_ended(card: SignInCard) -> bool:
    """Tell whether a card, or the phone that it signed in, opens nothing any more; takes `company` and `end`."""
    return hasattr(card, "end") or left_on(card, days_left(card.company.pk, card.account_id)) is not None
