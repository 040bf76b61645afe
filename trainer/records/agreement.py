"""Check that records, revocations, definitions and sealed texts agree with the register entries that tell of them."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from trainer.base.canonical import canonical_text, sha256_hex
from trainer.base.models import ErasureOrder, Evidence, Sealed
from trainer.people.models import Company
from trainer.records import register
from trainer.records.documents import definition_document
from trainer.records.models import CompletionRecord, QualificationDefinition, RecordRevocation


@dataclass(frozen=True)
class Problem:
    """Something that does not agree: a stable id, the company's slug, where, and what."""

    id: str
    company: str
    where: str
    message: str


Printed = tuple[str, dict[str, str]]  # where, and {ref, printed}: whose text, and the digest that binds it


@dataclass(frozen=True)
class Told:
    """What one register entry tells: its row and its leaf."""

    entry: int
    leaf: dict[str, Any]


def check_agreement(company: Company, told: list[Told]) -> Iterator[Problem]:
    """Compare what the entries tell with the company's rows, both ways."""
    by_kind: dict[str, dict[str, Told]] = {}
    for one in told:
        of_kind = by_kind.setdefault(str(one.leaf.get("kind")), {})
        if str(one.leaf.get("record")) in of_kind:
            where = f"entry {one.leaf['seq']}"
            yield Problem("register.E005", company.slug, where, "tells again what an earlier entry told")
        of_kind[str(one.leaf.get("record"))] = one
    yield from _check_records(company, by_kind.pop(register.ISSUED, {}))
    yield from _check_revocations(company, by_kind.pop(register.REVOKED, {}))
    yield from _check_definitions(company, by_kind.pop(register.DEFINITION_PUBLISHED, {}))
    for kind, entries in by_kind.items():
        for one in entries.values():
            yield Problem("register.E006", company.slug, f"entry {one.leaf['seq']}", f"is of the unknown kind {kind!r}")


# ---------------------------------------------------------------------------------------------------------- records
def _check_records(company: Company, issued: dict[str, Told]) -> Iterator[Problem]:
    rows = CompletionRecord.objects.filter(company=company).select_related(
        "company",
        "document",
        "account",
        "sitting",
        "module_version",
        "specification_revision",
        "definition",
        "issued_by",
    )
    printed: list[Printed] = []
    for record in rows.prefetch_related("bases__module_record__document").order_by("pk"):
        where = f"record {record.serial}"
        told = issued.pop(str(record.ref), None)
        if told is None:
            yield Problem("register.E020", company.slug, where, "stands in no entry of the register")
        elif record.entry_id != told.entry or record.document.digest != told.leaf["digest"]:
            yield Problem("register.E021", company.slug, where, "has another document than its entry tells of")
        document = _document(record.document)
        if document is None:
            yield Problem("register.E023", company.slug, where, "has a document whose stored bytes were changed")
            continue
        wrong = [name for name, (row, said) in _columns(record, document).items() if row != said]
        if wrong:
            yield Problem("register.E024", company.slug, where, f"differs from its document in {', '.join(wrong)}")
        assigner = document.get("assigned_by") or document.get("issued_by")
        printed += [(where, document["person"]), *([(where, assigner)] if assigner else [])]
    yield from _check_sealed(company, printed)
    for ref, told in issued.items():
        yield Problem(
            "register.E022", company.slug, f"entry {told.leaf['seq']}", f"tells of record {ref}, which is gone"
        )


def _columns(record: CompletionRecord, document: dict[str, Any]) -> dict[str, tuple[Any, Any]]:
    """Give each column of a record beside what the document says of it."""
    assigner = document.get("assigned_by") or document.get("issued_by") or {}
    pairs: dict[str, tuple[Any, Any]] = {
        "ref": (str(record.ref), document["record"]),
        "serial": (record.serial, document["serial"]),
        "code": (record.code, document["code"]),
        "company": (str(record.company.ref), document["company"]["ref"]),
        "person": (str(record.account.ref), document["person"]["ref"]),
        "name as printed": (record.holder_digest, document["person"]["printed"]),
        "kind": (record.kind, document["kind"]),
        "subject": (record.subject, document["subject"]["slug"]),
        "language": (record.language, document["language"]),
        "effective": (record.effective_on.isoformat(), document["effective"]),
        "valid until": ("" if record.valid_until is None else record.valid_until.isoformat(), document["valid_until"]),
        "decision": (register.instant_text(record.issued_at), document["decision"]["at"]),
        "decided by": ("" if record.issued_by is None else str(record.issued_by.ref), document["decision"]["by"]),
        "trainer as printed": (record.assigner_digest, assigner.get("printed", "")),
    }
    if record.kind == "module":
        return pairs | _module_columns(record, document)
    rests_on = [[str(basis.module_record.ref), basis.module_record.document.digest] for basis in record.bases.all()]
    definition = "" if record.definition is None else str(record.definition.ref)
    return pairs | {
        "definition": (definition, document["definition"]["ref"]),
        "rests on": (sorted(rests_on), sorted([base["record"], base["digest"]] for base in document["rests_on"])),
    }


def _module_columns(record: CompletionRecord, document: dict[str, Any]) -> dict[str, tuple[Any, Any]]:
    told = document["specification"]
    revision = record.specification_revision
    return {
        "sitting": ("" if record.sitting is None else str(record.sitting.ref), document["sitting"]["ref"]),
        "module version": (
            "" if record.module_version is None else record.module_version.digest,
            document["module"]["version"],
        ),
        "specification": ("" if revision is None else revision.key, f"{told['name']}/{told['revision']}"),
    }


def _document(evidence: Evidence) -> dict[str, Any] | None:
    """Give a document whose bytes still have their digest; None when they were changed."""
    try:
        document = json.loads(evidence.text)
    except Exception:  # noqa: BLE001  whatever was done to the bytes is reported, not raised
        return None
    return document if isinstance(document, dict) else None


def _check_sealed(company: Company, printed: list[Printed]) -> Iterator[Problem]:
    """Check that each sealed text is whole, or was erased under an order; two queries for 500 texts."""
    for start in range(0, len(printed), 500):
        part = printed[start : start + 500]
        rows = {row.digest: row for row in Sealed.objects.filter(digest__in=[one["printed"] for _where, one in part])}
        gone = [one["ref"] for _where, one in part if one["printed"] not in rows]
        orders = ErasureOrder.objects.filter(subject__in=gone)
        ordered = {str(subject) for subject in orders.values_list("subject", flat=True)}
        for where, one in part:
            sealed = rows.get(one["printed"])
            if sealed is None and one["ref"] not in ordered:
                message = "lacks a sealed text that nobody ordered to be erased"
                yield Problem("register.E025", company.slug, where, message)
            elif sealed is not None and not (sealed.is_whole() and str(sealed.subject) == one["ref"]):
                yield Problem("register.E026", company.slug, where, "has a sealed text that was changed")


# --------------------------------------------------------------------------------------- revocations and definitions
def _check_revocations(company: Company, revoked: dict[str, Told]) -> Iterator[Problem]:
    printed: list[Printed] = []
    rows = RecordRevocation.objects.filter(record__company=company)
    for row in rows.select_related("record__account", "document", "by").order_by("pk"):
        where = f"revocation of record {row.record.serial}"
        told = revoked.pop(str(row.record.ref), None)
        if told is None:
            yield Problem("register.E030", company.slug, where, "stands in no entry of the register")
        elif row.entry_id != told.entry or row.document.digest != told.leaf["digest"]:
            yield Problem("register.E031", company.slug, where, "has another document than its entry tells of")
        document = _document(row.document)
        if document is None:
            yield Problem("register.E033", company.slug, where, "has a document whose stored bytes were changed")
            continue
        said = (row.effective_from.isoformat(), row.reason_code, row.reason_digest, str(row.by.ref))
        if said != tuple(document[name] for name in ("effective", "reason_code", "reason", "by")):
            yield Problem("register.E034", company.slug, where, "differs from its document")
        if row.reason_digest:
            printed.append((where, {"ref": str(row.record.account.ref), "printed": row.reason_digest}))
    yield from _check_sealed(company, printed)
    for ref, told in revoked.items():
        message = f"tells that record {ref} was revoked, and the revocation is gone"
        yield Problem("register.E032", company.slug, f"entry {told.leaf['seq']}", message)


def _check_definitions(company: Company, published: dict[str, Told]) -> Iterator[Problem]:
    rows = QualificationDefinition.objects.filter(qualification__company=company)
    for row in rows.select_related("qualification__company").order_by("pk"):
        where = f"definition of {row.qualification.slug} from {row.effective_from}"
        told = published.pop(str(row.ref), None)
        if told is None:
            yield Problem("register.E040", company.slug, where, "stands in no entry of the register")
        elif told.leaf["digest"] != sha256_hex(canonical_text(definition_document(row))):
            yield Problem("register.E041", company.slug, where, "is not what its entry tells of")
    for ref, told in published.items():
        message = f"tells of definition {ref}, which is gone"
        yield Problem("register.E042", company.slug, f"entry {told.leaf['seq']}", message)
