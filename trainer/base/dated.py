"""Dated facts: rows that say what holds from a day on, and the one filter that reads them.

The fact that holds for a key on a day, as it was known at an instant, is the row with the latest `effective_from` not
after the day among those recorded by then; of several for one day, the one recorded last. An end is a later row that
says so.
"""

import uuid
from datetime import date, datetime
from typing import Any, TypeVar

from django.db import models
from django.db.models import OuterRef, QuerySet, Subquery

from trainer.base import clock
from trainer.base.append_only import AppendOnly

RowT = TypeVar("RowT", bound="Dated")


class Dated(AppendOnly):
    """A fact that holds from a day on: `effective_from` is a day on site, `recorded_at` the instant it was entered."""

    effective_from = models.DateField()
    recorded_at = models.DateTimeField(default=clock.now)
    recorded_by = models.UUIDField(null=True, blank=True)  # ref of the account; null for the program itself

    class Meta:
        abstract = True


def in_force(
    rows: "QuerySet[RowT]", *, key: tuple[str, ...], on: date, known_at: datetime | None = None
) -> "QuerySet[RowT]":
    """Keep, for each key, the row that holds `on` the day as known at the instant (now, by default).

    Rows that say a fact ended are kept too: the caller filters on what they say.
    """
    known: dict[str, Any] = {"effective_from__lte": on}
    if known_at is not None:
        known["recorded_at__lte"] = known_at
    same_key = {name: OuterRef(name) for name in key}
    latest = (
        rows.model._default_manager.filter(**known, **same_key)
        .order_by("-effective_from", "-recorded_at", "-pk")
        .values("pk")[:1]
    )
    return rows.filter(pk=Subquery(latest))


def account_ref(account: Any) -> uuid.UUID | None:
    """Give the ref that a dated row keeps of who recorded it."""
    return None if account is None else account.ref
