"""What a company sets for itself: its time zone, when something lapses soon, how long practice is kept."""

from zoneinfo import available_timezones

from django.db import transaction
from django.utils.translation import gettext as _

from trainer.base import journal
from trainer.base.errors import Refused
from trainer.people.models import Account, Company

NOTICE_DAYS = (1, 365)  # least and most
PRACTICE_MONTHS = (1, 60)


@transaction.atomic
def change_settings(
    *, company: Company, by: Account | None, time_zone: str, lapse_notice_days: int, practice_months: int
) -> Company:
    """Set how the company counts its days, and journal what changed; the same values again change nothing.

    Args:
        company: Whose settings they are.
        by: Who sets them.
        time_zone: A name of the IANA time zone database, such as `America/Chicago`.
        lapse_notice_days: How many days before its last day something "lapses soon", 1 to 365.
        practice_months: How many months practice is kept before `manage.py due` deletes it, 1 to 60.
    """
    row = Company.objects.select_for_update().get(pk=company.pk)
    if time_zone not in available_timezones():
        raise Refused(_("Choose a time zone from the list."), field="time_zone")
    _refuse_beyond(lapse_notice_days, NOTICE_DAYS, "lapse_notice_days")
    _refuse_beyond(practice_months, PRACTICE_MONTHS, "practice_months")
    wanted = {"time_zone": time_zone, "lapse_notice_days": lapse_notice_days, "practice_months": practice_months}
    changed = {name: [getattr(row, name), value] for name, value in wanted.items() if getattr(row, name) != value}
    if changed:
        for name, (_before, value) in changed.items():
            setattr(row, name, value)
        row.save(update_fields=list(changed))
        journal.write("settings-changed", row, by=by, company=row, **changed)
    return row


def _refuse_beyond(number: int, limits: tuple[int, int], field: str) -> None:
    least, most = limits
    if not least <= number <= most:
        text = _("Enter a whole number from %(least)s to %(most)s.") % {"least": least, "most": most}
        raise Refused(text, field=field)
