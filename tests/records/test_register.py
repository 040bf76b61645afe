"""The register under many hands at once."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection

from trainer.base.canonical import sha256_hex
from trainer.base.ids import new_ref
from trainer.people.models import Company
from trainer.records import merkle, register
from trainer.records.models import RegisterEntry, RegisterHead


@pytest.mark.django_db(transaction=True)
def test_it_numbers_entries_without_a_gap_when_many_add_at_once() -> None:
    """Eight writers add forty entries: each number once, and the head's root is that of all of them.

    The test database of SQLite lives in memory and takes one writer; PostgreSQL takes eight.
    """
    company = Company.objects.create(name="Own Roofing", slug="own")

    def add(number: int) -> None:
        register.append(
            company=company, kind=register.ISSUED, record=new_ref(), digest=sha256_hex(str(number)), by=None
        )
        if connection.vendor == "postgresql":
            connection.close()

    if connection.vendor == "postgresql":
        with ThreadPoolExecutor(max_workers=8) as writers:
            list(writers.map(add, range(40)))
    else:
        for number in range(40):
            add(number)

    entries = list(RegisterEntry.objects.filter(company=company).order_by("seq"))
    assert [entry.seq for entry in entries] == list(range(40))
    head = RegisterHead.objects.get(company=company)
    assert head.root == merkle.root_of([merkle.leaf_hash(entry.leaf.encode()) for entry in entries]).hex()
    assert head.size == 40
