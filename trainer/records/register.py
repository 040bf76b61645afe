"""A company's register: an append-only Merkle log of its records and what became of them.

A leaf is canonical JSON text of refs, codes and digests, so that a person can be erased and the tree stays whole. The
head row keeps size, right edge and root; it is locked while an entry is added, so the numbers have no gap.
"""

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final
from uuid import UUID

from django.db import transaction

from trainer.base import clock
from trainer.base.canonical import canonical_text
from trainer.people.models import Account, Company
from trainer.records import merkle
from trainer.records.models import RegisterEntry, RegisterHead

LEAF_VERSION: Final = 1
ISSUED: Final = "issued"
REVOKED: Final = "revoked"
DEFINITION_PUBLISHED: Final = "definition-published"


@dataclass(frozen=True)
class Head:
    """The register's size, edge and root as read from its head row."""

    size: int
    edge: list[bytes]
    root: bytes


def instant_text(at: datetime) -> str:
    """Write an instant as leaves and documents do: UTC, whole seconds, `Z`."""
    return at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def lock(company: Company) -> RegisterHead:
    """Lock the company's head row until the transaction ends; make it at the first entry.

    SQLite has no row locks: there every transaction holds the one write lock from its beginning.
    """
    RegisterHead.objects.get_or_create(company=company, defaults={"root": merkle.EMPTY_ROOT.hex()})
    return RegisterHead.objects.select_for_update().get(company=company)


def read(head: RegisterHead) -> Head:
    """Give the head row's hashes as bytes.

    Raises:
        ValueError: The row holds something that is no hexadecimal hash.
    """
    return Head(head.size, [bytes.fromhex(text) for text in head.edge.split()], bytes.fromhex(head.root))


@transaction.atomic
def append(
    *, company: Company, kind: str, record: UUID, digest: str, by: Account | None, reason_code: str = ""
) -> RegisterEntry:
    """Add one entry and move the head, inside the caller's transaction.

    Args:
        company: Whose register it is.
        kind: `issued`, `revoked` or `definition-published`.
        record: The ref of the record or definition that the entry is about.
        digest: SHA-256 of the canonical document that says what happened, in hexadecimal.
        by: The account that did it; None for the program itself.
        reason_code: Why, for a revocation.
    """
    row = lock(company)
    head = read(row)
    leaf = canonical_text(
        {
            "v": LEAF_VERSION,
            "seq": head.size,
            "company": str(company.ref),
            "at": instant_text(clock.now()),
            "kind": kind,
            "record": str(record),
            "digest": digest,
            "by": "" if by is None else str(by.ref),
            "reason_code": reason_code,
        }
    )
    leaf_hash = merkle.leaf_hash(leaf.encode())
    entry = RegisterEntry.objects.create(company=company, seq=head.size, leaf=leaf, leaf_hash=leaf_hash.hex())
    edge = merkle.append(head.edge, head.size, leaf_hash)
    row.size = head.size + 1
    row.edge = " ".join(item.hex() for item in edge)
    row.root = merkle.root_of_edge(edge).hex()
    row.save()
    return entry
