"""Sealed texts: bound to a digest, deletable only under an erasure order for their person."""

import uuid

import pytest
from django.db import DatabaseError, connection, transaction

from trainer.base.canonical import sha256_hex
from trainer.base.models import ErasureOrder, Sealed

pytestmark = pytest.mark.django_db

ANA, BEN = uuid.UUID(int=1, version=4), uuid.UUID(int=2, version=4)


def order_for(subject: uuid.UUID) -> ErasureOrder:
    """Give an order to erase a person."""
    return ErasureOrder.objects.create(subject=subject, ordered_by=BEN, reason_code="asked")


def refuse(statement: str, *values: str | int) -> None:
    """Run a statement that the trigger must refuse."""
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement, values)


def test_it_binds_the_text_with_a_salt() -> None:
    """The digest is of salt and text, so the same name sealed twice cannot be told from another."""
    first, second = Sealed.seal(subject=ANA, text="Ana"), Sealed.seal(subject=ANA, text="Ana")

    assert first.digest == sha256_hex(first.salt + "Ana")
    assert first.digest != second.digest
    assert first.is_whole()


def test_it_notices_a_changed_text() -> None:
    """A text that is not the bound one shows."""
    row = Sealed.seal(subject=ANA, text="Ana")
    row.text = "Anna"

    assert not row.is_whole()


def test_it_refuses_to_erase_without_an_order() -> None:
    """Neither code nor raw SQL deletes a sealed row by itself."""
    Sealed.seal(subject=ANA, text="Ana")
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        Sealed.objects.filter(subject=ANA).erase()
    refuse("DELETE FROM base_sealed")

    assert Sealed.objects.count() == 1


def test_it_erases_the_ordered_person_and_nobody_else() -> None:
    """An order opens the rows of its own subject alone."""
    Sealed.seal(subject=ANA, text="Ana")
    kept = Sealed.seal(subject=BEN, text="Ben")
    order_for(ANA)
    refuse("DELETE FROM base_sealed")  # would take Ben along

    erased = Sealed.objects.filter(subject=ANA).erase()

    assert erased == 1
    assert list(Sealed.objects.all()) == [kept]


def test_it_refuses_to_change_a_text_even_under_an_order() -> None:
    """An order lets a text go, not become another."""
    Sealed.seal(subject=ANA, text="Ana")
    order_for(ANA)

    refuse("UPDATE base_sealed SET text = 'Anna'")


def test_it_keeps_the_order_itself() -> None:
    """Who ordered an erasure stays on file."""
    order_for(ANA)

    refuse("DELETE FROM base_erasureorder")
    refuse("UPDATE base_erasureorder SET reason_code = 'none'")
