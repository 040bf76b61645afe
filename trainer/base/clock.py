"""The only clock: UTC now, and each company's day; `fixed` sets it for tests and for making the demo's past."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

_fixed: ContextVar[datetime | None] = ContextVar("fixed_now", default=None)


def now() -> datetime:
    """Give the present instant in UTC."""
    return _fixed.get() or datetime.now(UTC)


def day_in(zone: str, at: datetime | None = None) -> date:
    """Give the calendar day that an instant (now, by default) falls on in an IANA time zone."""
    return (at or now()).astimezone(ZoneInfo(zone)).date()


@contextmanager
def fixed(at: datetime) -> Iterator[None]:
    """Hold the clock at an instant inside the block; the instant must know its time zone."""
    if at.tzinfo is None:
        raise ValueError(f"the clock needs an instant with a time zone, not {at.isoformat()}")
    token = _fixed.set(at.astimezone(UTC))
    try:
        yield
    finally:
        _fixed.reset(token)


def advance(by: timedelta) -> None:
    """Move a fixed clock forward; outside `fixed` there is nothing to move.

    Raises:
        RuntimeError: The clock is not fixed.
    """
    held = _fixed.get()
    if held is None:
        raise RuntimeError("the clock runs by itself; only a fixed clock can be advanced")
    _fixed.set(held + by)
