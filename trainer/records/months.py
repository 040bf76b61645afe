"""Months on the calendar."""

from calendar import monthrange
from datetime import date


def months_after(day: date, months: int) -> date:
    """Give the same day of the month so many months later, or that month's last day where it is shorter."""
    years, month = divmod(day.month - 1 + months, 12)
    year, month = day.year + years, month + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))
