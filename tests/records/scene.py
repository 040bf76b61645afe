"""Make modules, sittings and records for tests: content of our own, sittings as rows, records issued by signal."""

import hashlib
import json
from datetime import UTC, date, datetime, time, timedelta

from trainer.base import clock, ids
from trainer.base.canonical import canonical_text, sha256_hex
from trainer.base.models import Evidence
from trainer.exams.models import ExamPlan, Sheet, Sitting, SittingEnd, SittingScore
from trainer.exams.signals import sitting_scored
from trainer.library.models import ContentKind, ContentVersion, ModuleVersion, SpecificationRevision
from trainer.people.access import Member
from trainer.records.models import CompletionRecord

NOON = time(18, 0, tzinfo=UTC)  # noon in Chicago, winter time
MODULE_TEXT = """
title = {{ en = "{en}", es = "{es}" }}
specification = "two-ply-self-adhered"
minutes = 8
summary = {{ en = "What to do.", es = "Qué hacer." }}

[check]
questions = 10
topics = {{ layout = 10 }}
passing_score = 8
reason = {{ en = "Two may be missed.", es = "Se pueden fallar dos." }}
minutes = 30
wait_hours = 24
valid_months = {months}
critical = ["{slug}/ply-offset"]
"""
TITLES = {
    "base-sheet-layout": ("Base sheet layout and laps", "Trazado de la hoja base y traslapes"),
    "edge-metal": ("Edge metal", "Metal de borde"),
}


def at(day: date) -> datetime:
    """Give noon of a day at the company."""
    return datetime.combine(day, NOON)


def content(kind: str, path: str, text: str) -> ContentVersion:
    """Keep a content file, once."""
    digest = hashlib.sha256(text.encode()).hexdigest()
    row, _made = ContentVersion.objects.get_or_create(
        path=path, sha256=digest, company=None, defaults={"kind": kind, "text": text}
    )
    return row


def module(slug: str = "base-sheet-layout", months: int = 24) -> ModuleVersion:
    """Load a module that holds so many months, once."""
    english, spanish = TITLES.get(slug, (slug.replace("-", " ").capitalize(), f"Módulo {slug}"))
    text = MODULE_TEXT.format(en=english, es=spanish, slug=slug, months=months)
    file = content(ContentKind.MODULE, f"{slug}/module.toml", text)
    manifest = canonical_text({file.path: file.sha256})
    row, _made = ModuleVersion.objects.get_or_create(
        slug=slug, digest=sha256_hex(manifest), defaults={"manifest": manifest}
    )
    return row


def revision(label: str = "2026") -> SpecificationRevision:
    """Load a revision of the specification, once."""
    path = f"specifications/two-ply-self-adhered/{label}.toml"
    file = content(ContentKind.SPECIFICATION, path, f'revision = "{label}"')
    row, _made = SpecificationRevision.objects.get_or_create(
        name="two-ply-self-adhered", revision=label, defaults={"content": file}
    )
    return row


def plan(slug: str, months: int = 24) -> ExamPlan:
    """Publish the plan of a module, once for each number of months."""
    found = ExamPlan.objects.filter(scope="", module=slug, valid_months=months).first()
    return found or ExamPlan.objects.create(
        module=slug,
        effective_from=date(2020, 1, 1),
        questions=10,
        topics=canonical_text({"layout": 10}),
        critical=canonical_text([f"{slug}/ply-offset"]),
        passing_score=8,
        reason_en="Two may be missed.",
        reason_es="Se pueden fallar dos.",
        minutes=30,
        wait_hours=24,
        valid_months=months,
    )


def scored(
    member: Member,
    slug: str = "base-sheet-layout",
    *,
    day: date,
    right: int = 9,
    months: int = 24,
    label: str = "2026",
    ended: datetime | None = None,
) -> tuple[Sitting, SittingScore]:
    """Have somebody sit and end a module check at noon of a day, or at an instant; the signal is sent as exams do."""
    end = ended or at(day)
    number = Sitting.objects.filter(company=member.company, account=member.account, module=slug).count() + 1
    with clock.fixed(end):
        sitting = Sitting.objects.create(
            company=member.company,
            account=member.account,
            module=slug,
            number=number,
            plan=plan(slug, months),
            module_version=module(slug, months),
            specification_revision=revision(label),
            language=member.account.language,
            started_at=end - timedelta(minutes=20),
            ends_at=end + timedelta(minutes=10),
            seed=ids.new_token(),
        )
        Sheet.objects.create(
            sitting=sitting,
            number=1,
            question=f"{slug}/ply-offset",
            topic="layout",
            critical=True,
            evidence=Evidence.store({"case": str(sitting.ref)}),
        )
        SittingEnd.objects.create(sitting=sitting, ended_at=end, how="person")
        score = SittingScore.objects.create(
            sitting=sitting,
            right=right,
            of=10,
            passed=right >= 8,
            critical_missed=0,
            evidence=Evidence.store({"sitting": str(sitting.ref), "right": right}),
        )
        sitting_scored.send(Sitting, sitting=sitting, score=score)
    return sitting, score


def record(
    member: Member, slug: str = "base-sheet-layout", *, day: date, months: int = 24, label: str = "2026"
) -> CompletionRecord:
    """Give the record that somebody earned at noon of a day."""
    sitting, _score = scored(member, slug, day=day, months=months, label=label)
    return CompletionRecord.objects.select_related("document", "company", "account").get(sitting=sitting)


def document_of(row: CompletionRecord) -> dict[str, object]:
    """Give a record's document."""
    found: dict[str, object] = json.loads(row.document.text)
    return found
