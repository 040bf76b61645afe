"""Changes to records: issue, revoke, define. Each is one transaction with its register entry and journal line."""

from dataclasses import dataclass
from datetime import date

from django.db import transaction
from django.utils.text import slugify
from django.utils.translation import gettext_lazy as _

from trainer.base import clock, ids, journal
from trainer.base.dated import account_ref
from trainer.base.errors import Refused
from trainer.base.models import Evidence, Sealed
from trainer.exams.models import Sitting, SittingScore
from trainer.library import queries as library
from trainer.people.models import Account, Company
from trainer.records import documents, queries, register
from trainer.records.models import (
    CompletionRecord,
    Qualification,
    QualificationDefinition,
    RecordBasis,
    RecordKind,
    RecordRevocation,
    RevocationReason,
)
from trainer.records.months import months_after
from trainer.training.queries import assigned_by


@dataclass(frozen=True)
class Validity:
    """The days that a record holds: the first and the last, None for no end."""

    effective_on: date
    valid_until: date | None


# ------------------------------------------------------------------------------------------------------------ issue
@transaction.atomic
def issue_module_record(*, sitting: Sitting, score: SittingScore) -> CompletionRecord | None:
    """Issue the record of a passed sitting, inside the transaction that scored it; nothing for one not passed.

    A second call for the same sitting breaks the unique sitting of records, so nothing is issued twice.
    """
    if not score.passed:
        return None
    company = sitting.company
    decided = clock.day_in(company.time_zone, score.scored_at)
    validity = Validity(decided, months_after(decided, sitting.plan.valid_months))
    assigner = assigned_by(company=company, account=sitting.account, module=sitting.module, on=decided)
    record = _new(company, sitting.account, RecordKind.MODULE, sitting.module, validity)
    record.language = sitting.language
    record.sitting = sitting
    record.module_version = sitting.module_version
    record.specification_revision = sitting.specification_revision
    record.issued_at = score.scored_at
    record.assigner_digest = "" if assigner is None else documents.seal_name(assigner).digest
    document = documents.module_document(record, sitting=sitting, score=score, assigner=assigner)
    return _enter(record, document)


@transaction.atomic
def issue_qualification(
    *, qualification: Qualification, account: Account, by: Account, language: str | None = None
) -> CompletionRecord:
    """Issue a qualification record today to somebody who holds all that it takes.

    It is valid until the first of its own months and its module records runs out.

    Raises:
        Refused: It is no longer given, a module is not held, or it is held already; says which.
    """
    company = qualification.company
    register.lock(company)  # two offices pressing at once are served one after the other
    today = company.today()
    definition = queries.definition_in_force(qualification, on=today)
    if definition is None or not definition.module_slugs:
        raise Refused(_("This qualification is not given on this day: publish a definition first."))
    bases = _bases(company, account, definition, today)
    own = [] if definition.valid_months is None else [months_after(today, definition.valid_months)]
    ends = [base.valid_until for base in bases if base.valid_until is not None] + own
    valid_until = min(ends) if ends else None
    slug = qualification.slug
    held = queries.held(company, account, RecordKind.QUALIFICATION, [slug], on=today).get(slug)
    if held is not None and _last(held.valid_until) >= _last(valid_until):
        raise Refused(_("The person already holds this qualification for as long as its modules last."))
    record = _new(company, account, RecordKind.QUALIFICATION, slug, Validity(today, valid_until))
    record.issued_by = by
    record.language = language or account.language
    record.definition = definition
    record.assigner_digest = documents.seal_name(by).digest
    document = documents.qualification_document(record, definition=definition, bases=bases)
    entered = _enter(record, document)
    for base in bases:
        RecordBasis.objects.create(qualification_record=entered, module_record=base)
    return entered


def _last(valid_until: date | None) -> date:
    return date.max if valid_until is None else valid_until


def _bases(
    company: Company, account: Account, definition: QualificationDefinition, today: date
) -> list[CompletionRecord]:
    held = queries.held(company, account, RecordKind.MODULE, definition.module_slugs, on=today)
    missing = [slug for slug in definition.module_slugs if slug not in held]
    if missing:
        titles = queries.module_titles()
        names = ", ".join(titles.get(slug, slug) for slug in missing)
        raise Refused(_("Not held on this day: %(modules)s.") % {"modules": names})
    return [held[slug] for slug in definition.module_slugs]


def _new(company: Company, account: Account, kind: str, subject: str, validity: Validity) -> CompletionRecord:
    """Fill a record's row with its numbers and the sealed name; the head stays locked so the serial is its own."""
    head = register.lock(company)
    return CompletionRecord(
        ref=ids.new_ref(),
        company=company,
        account=account,
        kind=kind,
        subject=subject,
        serial=f"{validity.effective_on.year}-{head.size + 1:05d}",
        code=ids.new_code(),
        effective_on=validity.effective_on,
        valid_until=validity.valid_until,
        holder_digest=documents.seal_name(account, number=documents.number_of(company, account)).digest,
        issued_at=clock.now(),
    )


def _enter(record: CompletionRecord, document: dict[str, object]) -> CompletionRecord:
    record.document = Evidence.store(document)
    record.entry = register.append(
        company=record.company,
        kind=register.ISSUED,
        record=record.ref,
        digest=record.document.digest,
        by=record.issued_by,
    )
    record.save()
    journal.write("record-issued", record, by=record.issued_by, company=record.company, serial=record.serial)
    return record


# ----------------------------------------------------------------------------------------------------------- revoke
@transaction.atomic
def revoke(
    *,
    record: CompletionRecord,
    by: Account,
    reason_code: str,
    reason: str,
    from_the_start: bool = False,
) -> RecordRevocation:
    """Revoke a record from today on, or from its first day; what rests on it is revoked with it. Never undone.

    Raises:
        Refused: It was revoked before, the reason is unknown, or another reason is given without words.
    """
    register.lock(record.company)
    if RecordRevocation.objects.filter(record=record).exists():
        raise Refused(_("This record was already revoked."))
    if reason_code not in RevocationReason.values or reason_code == RevocationReason.BASIS_REVOKED:
        raise Refused(_("Choose why the record is revoked."), field="reason_code")
    if reason_code == RevocationReason.OTHER and not reason.strip():
        raise Refused(_("Say in a few words why the record is revoked."), field="reason")
    day = record.effective_on if from_the_start else max(record.effective_on, record.company.today())
    made = _revoke_one(record, by, reason_code, reason.strip(), day)
    for basis in record.carried.select_related("qualification_record__company").filter(
        qualification_record__revocation__isnull=True
    ):
        carried = basis.qualification_record
        _revoke_one(carried, by, RevocationReason.BASIS_REVOKED, "", max(day, carried.effective_on))
    return made


def _revoke_one(record: CompletionRecord, by: Account, reason_code: str, reason: str, day: date) -> RecordRevocation:
    sealed = Sealed.seal(subject=record.account.ref, text=reason).digest if reason else ""
    at = clock.now()
    document = Evidence.store(
        documents.revocation_document(
            record, reason_code=reason_code, reason_digest=sealed, effective_from=day, at=at, by=by
        )
    )
    entry = register.append(
        company=record.company,
        kind=register.REVOKED,
        record=record.ref,
        digest=document.digest,
        by=by,
        reason_code=reason_code,
    )
    journal.write("record-revoked", record, by=by, company=record.company, reason_code=reason_code)
    return RecordRevocation.objects.create(
        record=record,
        effective_from=day,
        reason_code=reason_code,
        reason_digest=sealed,
        document=document,
        entry=entry,
        at=at,
        by=by,
    )


# ----------------------------------------------------------------------------------------------------------- define
@transaction.atomic
def define_qualification(
    *,
    company: Company,
    by: Account | None,
    title_en: str,
    title_es: str,
    modules: list[str],
    valid_months: int | None,
    effective_from: date,
    qualification: Qualification | None = None,
) -> QualificationDefinition:
    """Publish what a qualification takes from a day on; without `qualification` a new one is made.

    No modules: from that day on it is no longer given; records issued before stay as they are.

    Raises:
        Refused: A title is missing, a module is unknown, the months are below 1, or the name is taken.
    """
    title_en, title_es = " ".join(title_en.split()), " ".join(title_es.split())
    if not title_en or not title_es:
        raise Refused(_("Enter the title in English and in Spanish."), field="title_es" if title_en else "title_en")
    if valid_months is not None and valid_months < 1:
        raise Refused(_("Enter 1 month or more, or leave it empty."), field="valid_months")
    unknown = sorted(set(modules) - {version.slug for version in library.module_versions()})
    if unknown:
        raise Refused(_("There is no module “%(module)s”.") % {"module": unknown[0]}, field="modules")
    if qualification is None:
        if not modules:
            raise Refused(_("Choose at least one module."), field="modules")
        qualification = _new_qualification(company, title_en)
    definition = QualificationDefinition(
        qualification=qualification,
        title_en=title_en,
        title_es=title_es,
        modules=" ".join(dict.fromkeys(modules)),
        valid_months=valid_months,
        effective_from=effective_from,
        recorded_by=account_ref(by),
    )
    definition.save()
    register.append(
        company=company,
        kind=register.DEFINITION_PUBLISHED,
        record=definition.ref,
        digest=Evidence.store(documents.definition_document(definition)).digest,
        by=by,
    )
    journal.write("qualification-defined", definition, by=by, company=company, qualification=qualification.slug)
    return definition


def _new_qualification(company: Company, title_en: str) -> Qualification:
    slug = slugify(title_en)[:80]
    if not slug:
        raise Refused(_("The English title needs letters."), field="title_en")
    if Qualification.objects.filter(company=company, slug=slug).exists():
        raise Refused(_("There is already a qualification of this name; change that one."), field="title_en")
    return Qualification.objects.create(company=company, slug=slug)
