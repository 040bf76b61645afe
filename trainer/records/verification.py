"""Check a company's register: every leaf, the tree, the head, and that all records agree with their entries.

A tail cut from the log shows against the head row; one cut from both shows against the records, and, where these were
removed too, only against a root that somebody else holds.
"""

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import Any

from trainer.base.canonical import canonical_text
from trainer.people.models import Company
from trainer.records import merkle
from trainer.records.agreement import Problem, Told, check_agreement
from trainer.records.models import RegisterEntry, RegisterHead


@dataclass(frozen=True)
class CompanyRegister:
    """A company's register as worked out from its leaves."""

    company: str
    entries: int
    root: str


@dataclass
class Report:
    """What `verify_register` prints."""

    companies: list[CompanyRegister]
    problems: list[Problem]

    def as_json(self) -> dict[str, Any]:
        """Give `{companies:[{company, entries, root}], problems:[{id, company, where, message}]}`."""
        return {
            "companies": [asdict(company) for company in self.companies],
            "problems": [asdict(problem) for problem in self.problems],
        }


def verify() -> Report:
    """Check every company's register, by slug."""
    report = Report([], [])
    for company in Company.objects.order_by("slug"):
        entries = list(RegisterEntry.objects.filter(company=company).order_by("seq"))
        hashes = [merkle.leaf_hash(entry.leaf.encode()) for entry in entries]
        report.companies.append(CompanyRegister(company.slug, len(entries), merkle.root_of(hashes).hex()))
        told: list[Told] = []
        report.problems += _check_leaves(company, entries, told)
        report.problems += _check_head(company, hashes)
        report.problems += check_agreement(company, told)
    return report


def _check_leaves(company: Company, entries: list[RegisterEntry], told: list[Told]) -> Iterator[Problem]:
    """Check numbers, hashes and form of the leaves; put what each readable one tells into `told`."""
    expected = 0
    for entry in entries:
        where = f"entry {entry.seq}"
        if entry.seq != expected:
            gone = f"{expected}" if entry.seq == expected + 1 else f"{expected} to {entry.seq - 1}"
            yield Problem("register.E001", company.slug, where, f"follows a gap: entry {gone} is missing")
        expected = entry.seq + 1
        if merkle.leaf_hash(entry.leaf.encode()).hex() != entry.leaf_hash:
            yield Problem("register.E002", company.slug, where, "does not have its hash: text or hash was changed")
            continue
        leaf = _leaf(entry.leaf)
        if leaf is None:
            yield Problem("register.E003", company.slug, where, "is no canonical JSON object")
            continue
        if leaf.get("seq") != entry.seq or leaf.get("company") != str(company.ref):
            yield Problem("register.E004", company.slug, where, "names another number or another company")
        told.append(Told(entry.pk, leaf))


def _leaf(text: str) -> dict[str, Any] | None:
    try:
        leaf = json.loads(text)
        return leaf if isinstance(leaf, dict) and canonical_text(leaf) == text else None
    except (ValueError, TypeError):
        return None


def _check_head(company: Company, hashes: list[bytes]) -> Iterator[Problem]:
    row = RegisterHead.objects.filter(company=company).first()
    if row is None:
        if hashes:
            yield Problem("register.E010", company.slug, "head", f"is missing beside {len(hashes)} entries")
        return
    if row.size != len(hashes):
        message = f"counts {row.size} entries where the log holds {len(hashes)}: some were removed or put in beside it"
        yield Problem("register.E011", company.slug, "head", message)
        return
    edge: list[bytes] = []
    for size, leaf_hash in enumerate(hashes):
        edge = merkle.append(edge, size, leaf_hash)
    root = merkle.root_of_edge(edge).hex()
    if row.root != root:
        yield Problem("register.E012", company.slug, "head", f"has the root {row.root}; the entries have {root}")
    if row.edge.split() != [item.hex() for item in edge]:
        yield Problem("register.E013", company.slug, "head", "has another edge than the entries")
