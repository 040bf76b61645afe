"""What a record, a revocation and a definition say, as documents of canonical JSON without names.

Days are the company's, `YYYY-MM-DD`; instants are UTC. A person is a ref beside `printed`, the salted SHA-256 of the
name as printed, which is sealed apart.
"""

import json
from datetime import date, datetime
from typing import Any, Final

from django.db import models

from trainer.base import clock
from trainer.base.canonical import canonical_text
from trainer.base.models import Sealed
from trainer.exams.models import Sitting, SittingScore
from trainer.library import queries as library
from trainer.people.models import Account, Company, Membership
from trainer.records.models import CompletionRecord, QualificationDefinition
from trainer.records.register import instant_text
from trainer.training.models import Reading

DOCUMENT_VERSION: Final = 1
STATEMENT: Final = {
    "en": "completion of {title}; not a safety certification",
    "es": "finalización de {title}; no es una certificación de seguridad",
}


def seal_name(account: Account, *, number: str = "") -> Sealed:
    """Seal a person's name, with the company's number where there is one, as it will be printed."""
    return Sealed.seal(subject=account.ref, text=canonical_text({"name": account.name, "number": number}))


def number_of(company: Company, account: Account) -> str:
    """Give the company's own number for the person, as last entered; empty where there is none."""
    rows = Membership.objects.filter(company=company, account=account)
    latest = rows.order_by("-effective_from", "-recorded_at", "-pk")
    return str(latest.values_list("number", flat=True).first() or "")


def statement(title: dict[str, str]) -> dict[str, str]:
    """Say in both languages what the record is and what it is not."""
    return {language: text.format(title=title[language]) for language, text in STATEMENT.items()}


def common(record: CompletionRecord, *, title: dict[str, str], basis: date) -> dict[str, Any]:
    """Give what records of both kinds say; `basis` is the first day of the training behind it."""
    return {
        "v": DOCUMENT_VERSION,
        "type": "completion record",
        "statement": statement(title),
        "record": str(record.ref),
        "serial": record.serial,
        "code": record.code,
        "company": {"ref": str(record.company.ref), "name": record.company.name},
        "person": {"ref": str(record.account.ref), "printed": record.holder_digest},
        "kind": record.kind,
        "subject": {"slug": record.subject, "title": title},
        "language": record.language,
        "training": {"first": basis.isoformat(), "last": record.effective_on.isoformat()},
        "decision": {
            "at": instant_text(record.issued_at),
            "by": "" if record.issued_by is None else str(record.issued_by.ref),
        },
        "effective": record.effective_on.isoformat(),
        "valid_until": "" if record.valid_until is None else record.valid_until.isoformat(),
    }


def module_document(
    record: CompletionRecord, *, sitting: Sitting, score: SittingScore, assigner: Account | None
) -> dict[str, Any]:
    """Give the document of a module record; the record's row is filled but for document and entry."""
    title = {str(language): text for language, text in library.module_of(sitting.module_version).title.items()}
    zone = record.company.time_zone
    critical = sitting.sheets.filter(critical=True).order_by("question").values_list("question", flat=True)
    document = common(record, title=title, basis=first_training_day(sitting))
    document["training"]["last"] = clock.day_in(zone, sitting.end.ended_at).isoformat()
    return document | {
        "module": {"slug": sitting.module, "version": sitting.module_version.digest},
        "specification": {
            "name": sitting.specification_revision.name,
            "revision": sitting.specification_revision.revision,
        },
        "sitting": {
            "ref": str(sitting.ref),
            "evidence": score.evidence.digest,
            "started": instant_text(sitting.started_at),
            "ended": instant_text(sitting.end.ended_at),
        },
        "score": {"right": score.right, "of": score.of, "passing": sitting.plan.passing_score},
        "critical": {"questions": list(critical), "missed": score.critical_missed},
        "assigned_by": None if assigner is None else {"ref": str(assigner.ref), "printed": record.assigner_digest},
    }


def qualification_document(
    record: CompletionRecord, *, definition: QualificationDefinition, bases: list[CompletionRecord]
) -> dict[str, Any]:
    """Give the document of a qualification record, with the module records that it rests on."""
    title = {"en": definition.title_en, "es": definition.title_es}
    issuer = record.issued_by
    days = [date.fromisoformat(read(base)["training"]["first"]) for base in bases]
    return common(record, title=title, basis=min(days)) | {
        "definition": {"ref": str(definition.ref), "effective": definition.effective_from.isoformat()},
        "rests_on": [{"record": str(base.ref), "digest": base.document.digest} for base in bases],
        "issued_by": None if issuer is None else {"ref": str(issuer.ref), "printed": record.assigner_digest},
    }


def definition_document(definition: QualificationDefinition) -> dict[str, Any]:
    """Give the document of a definition."""
    return {
        "v": DOCUMENT_VERSION,
        "type": "qualification definition",
        "definition": str(definition.ref),
        "company": str(definition.qualification.company.ref),
        "qualification": definition.qualification.slug,
        "title": {"en": definition.title_en, "es": definition.title_es},
        "modules": definition.module_slugs,
        "valid_months": definition.valid_months,
        "effective": definition.effective_from.isoformat(),
    }


def revocation_document(
    record: CompletionRecord,
    *,
    reason_code: str,
    reason_digest: str,
    effective_from: date,
    at: datetime,
    by: Account,
) -> dict[str, Any]:
    """Give the document of a revocation; the reason in words is sealed and bound by its salted digest."""
    return {
        "v": DOCUMENT_VERSION,
        "type": "revocation",
        "record": str(record.ref),
        "digest": record.document.digest,
        "effective": effective_from.isoformat(),
        "reason_code": reason_code,
        "reason": reason_digest,
        "at": instant_text(at),
        "by": str(by.ref),
    }


def first_training_day(sitting: Sitting) -> date:
    """Give the first day that the person read the module's lesson in the company, or the day of the sitting."""
    opened = Reading.objects.filter(
        company=sitting.company,
        account=sitting.account,
        module_version__slug=sitting.module,
        opened_at__lte=sitting.started_at,
    ).aggregate(first=models.Min("opened_at"))["first"]
    return clock.day_in(sitting.company.time_zone, opened or sitting.started_at)


def read(record: CompletionRecord) -> dict[str, Any]:
    """Give a record's document; its stored bytes are checked against their digest."""
    document: dict[str, Any] = json.loads(record.document.text)
    return document
