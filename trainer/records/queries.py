"""Reads of records, qualifications and the register, each in a bounded number of queries."""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final, Literal, cast
from uuid import UUID

from django.db.models import Count, Q, QuerySet
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from trainer.base.dated import in_force
from trainer.base.ids import read_code
from trainer.base.models import Sealed
from trainer.library import queries as library
from trainer.people.access import Member
from trainer.people.models import Account, Company, Membership
from trainer.records import register
from trainer.records.models import (
    CompletionRecord,
    Qualification,
    QualificationDefinition,
    RecordKind,
    RecordQuerySet,
    RegisterEntry,
    RegisterHead,
)
from trainer.records.months import months_after
from trainer.records.states import STATE_WORDS, VERDICT_WORDS, State, Verdict, state_until

ENTRY_WORDS: Final = {
    register.ISSUED: _("record issued"),
    register.REVOKED: _("record revoked"),
    register.DEFINITION_PUBLISHED: _("qualification defined"),
}


def page_language() -> Literal["en", "es"]:
    """Give `en` or `es`: the language of the page that is being made."""
    return "es" if (get_language() or "en").startswith("es") else "en"


# ---------------------------------------------------------------------------------------------------------- records
def records() -> RecordQuerySet:
    """Give records with what their pages need, in one query."""
    return CompletionRecord.objects.select_related(
        "company", "account", "document", "revocation__by", "specification_revision", "entry"
    )


def visible_record(member: Member, ref: UUID) -> CompletionRecord | None:
    """Give a record that the member may see as staff."""
    return cast("CompletionRecord | None", records().visible_to(member).filter(ref=ref).first())


def own_records(member: Member) -> list[CompletionRecord]:
    """List the member's own records in the company, the latest first."""
    rows = records().filter(company=member.company, account=member.account)
    return list(rows.order_by("-effective_on", "-pk"))


@dataclass(frozen=True)
class OwnLine:
    """One of a person's own records: its title in the page's language and how it stands today."""

    record: CompletionRecord
    title: str
    state: State
    words: str
    revoked: bool


def own_lines(member: Member) -> list[OwnLine]:
    """List the member's own records with their states; those revoked or lapsed come last."""
    language, today, notice = page_language(), member.today, member.company.lapse_notice_days
    lines: list[OwnLine] = []
    for record in own_records(member):
        revoked = record.revoked is not None
        state = State.NONE if revoked else state_until(record.valid_until, today, notice)
        title = json.loads(record.document.text)["subject"]["title"][language]
        words = VERDICT_WORDS[Verdict.REVOKED] if revoked else STATE_WORDS[state]
        lines.append(OwnLine(record, title, state, str(words), revoked))
    return sorted(lines, key=lambda line: line.revoked or line.state == State.LAPSED)


def own_record(member: Member, ref: UUID) -> CompletionRecord | None:
    """Give one of the member's own records."""
    rows = records().filter(company=member.company, account=member.account)
    return cast("CompletionRecord | None", rows.filter(ref=ref).first())


def record_by_code(text: str) -> CompletionRecord | None:
    """Find a record by its code as somebody typed it: any case, spaces, hyphens, I L O for 1 1 0."""
    return cast("CompletionRecord | None", records().filter(code=read_code(text)).first())


def records_by_ref(refs: Iterable[str]) -> list[CompletionRecord]:
    """List records by ref, with their documents, in the order they were issued; one query."""
    rows = CompletionRecord.objects.filter(ref__in=[UUID(ref) for ref in refs]).select_related("document")
    return list(rows.order_by("pk"))


def resting_on(record: CompletionRecord) -> list[CompletionRecord]:
    """List the qualification records that rest on a module record and still stand."""
    rows = CompletionRecord.objects.filter(bases__module_record=record, revocation__isnull=True)
    return list(rows.order_by("pk"))


def standing(company: Company, *, on: date, known_at: datetime | None = None) -> RecordQuerySet:
    """Give the records that had begun and were not revoked on a day, as known at an instant (now, by default).

    Those past their last day are kept: they tell lapsed from not held.
    """
    revoked = Q(revocation__effective_from__lte=on)
    rows = CompletionRecord.objects.filter(company=company, effective_on__lte=on)
    if known_at is not None:
        rows = rows.filter(issued_at__lte=known_at)
        revoked &= Q(revocation__at__lte=known_at)
    return rows.exclude(revoked)


def held(
    company: Company, account: Account, kind: str, subjects: Iterable[str], *, on: date
) -> dict[str, CompletionRecord]:
    """Give, for each subject that the person holds on a day, the record that holds longest; one query."""
    rows = standing(company, on=on).filter(account=account, kind=kind, subject__in=list(subjects))
    rows = rows.filter(Q(valid_until__isnull=True) | Q(valid_until__gte=on)).select_related("document")
    best: dict[str, CompletionRecord] = {}
    for record in sorted(rows, key=lambda row: (row.valid_until or date.max, row.pk)):
        best[record.subject] = record
    return best


def printed_names(digests: Iterable[str]) -> dict[str, dict[str, str]]:
    """Give the sealed names of these digests as `{name, number}`; one that was erased is absent. One query."""
    rows = Sealed.objects.filter(digest__in=[digest for digest in digests if digest])
    return {row.digest: json.loads(row.text) for row in rows}


def sealed_text(digest: str) -> str | None:
    """Give one sealed text, such as a reason in words; None when there is none or it was erased."""
    row = Sealed.objects.filter(digest=digest).first() if digest else None
    return None if row is None else row.text


def sealed_row(digest: str) -> Sealed | None:
    """Give one sealed row, with the salt that binds it."""
    return cast("Sealed | None", Sealed.objects.filter(digest=digest).first())


def module_titles() -> dict[str, str]:
    """Give the title of each module in use, in the page's language."""
    language = page_language()
    modules = library.modules_of(library.module_versions())
    return {slug: module.title[language] for slug, module in modules.items()}


# --------------------------------------------------------------------------------------------------- qualifications
def definitions_in_force(
    company: Company, *, on: date, known_at: datetime | None = None
) -> list[QualificationDefinition]:
    """List what each of the company's qualifications takes on a day, by English title; those ended are left out."""
    rows = in_force(
        QualificationDefinition.objects.filter(qualification__company=company),
        key=QualificationDefinition.KEY,
        on=on,
        known_at=known_at,
    )
    return list(rows.exclude(modules="").select_related("qualification").order_by("title_en", "pk"))


def titles_ever(company: Company) -> dict[str, str]:
    """Give the latest title that each of the company's qualifications had, by slug."""
    rows = QualificationDefinition.objects.filter(qualification__company=company).select_related("qualification")
    return {row.qualification.slug: row.title for row in rows.order_by("effective_from", "recorded_at", "pk")}


def definition_in_force(qualification: Qualification, *, on: date) -> QualificationDefinition | None:
    """Give what the qualification takes on a day; None before its first definition."""
    rows = QualificationDefinition.objects.filter(qualification=qualification)
    return in_force(rows, key=QualificationDefinition.KEY, on=on).first()


def visible_qualification(member: Member, ref: UUID) -> Qualification | None:
    """Give one of the company's qualifications."""
    rows = Qualification.objects.all().visible_to(member).select_related("company")
    return cast("Qualification | None", rows.filter(ref=ref).first())


@dataclass(frozen=True)
class QualificationLine:
    """One qualification in the list: what it takes now, or took last, and how many hold it today."""

    qualification: Qualification
    definition: QualificationDefinition
    given: bool
    modules: list[str]
    holders: int


def qualification_lines(member: Member) -> list[QualificationLine]:
    """List the company's qualifications with what they take today; four queries."""
    today = member.today
    latest: dict[int, QualificationDefinition] = {}
    rows = QualificationDefinition.objects.filter(qualification__company=member.company)
    for row in rows.select_related("qualification").order_by("effective_from", "recorded_at", "pk"):
        if row.effective_from <= today or row.qualification_id not in latest:
            latest[row.qualification_id] = row
    titles = module_titles()
    holders = holder_counts(member.company, on=today)
    return [
        QualificationLine(
            qualification=row.qualification,
            definition=row,
            given=bool(row.modules) and row.effective_from <= today,
            modules=[titles.get(slug, slug) for slug in row.module_slugs],
            holders=holders.get(row.qualification.slug, 0),
        )
        for row in sorted(latest.values(), key=lambda row: row.title)
    ]


def holder_counts(company: Company, *, on: date) -> dict[str, int]:
    """Give how many people hold each qualification on a day."""
    rows = standing(company, on=on).filter(kind=RecordKind.QUALIFICATION)
    rows = rows.filter(Q(valid_until__isnull=True) | Q(valid_until__gte=on))
    counted = rows.values("subject").annotate(people=Count("account", distinct=True))
    return {row["subject"]: row["people"] for row in counted}


def definitions_of(qualification: Qualification) -> list[QualificationDefinition]:
    """List every definition of the qualification, the latest day first."""
    return list(qualification.definitions.order_by("-effective_from", "-recorded_at", "-pk"))


@dataclass(frozen=True)
class Candidate:
    """Somebody with at least one of a qualification's modules: what is missing, and until when it is held already.

    `until` is the last day of a record issued today; `date.max` stands for no end.
    """

    account: Account
    missing: list[str]
    held_until: date | None
    until: date

    @property
    def ready(self) -> bool:
        """Whether nothing is missing and a record issued today would hold longer than the one held."""
        return not self.missing and (self.held_until is None or self.held_until < self.until)

    @property
    def holds_without_end(self) -> bool:
        """Whether it is held and has no last day."""
        return self.held_until == date.max


def candidates(
    qualification: Qualification, definition: QualificationDefinition | None, *, on: date
) -> list[Candidate]:
    """List the company's people by name with what they lack for the qualification; a bounded number of queries."""
    if definition is None or not definition.modules:
        return []
    company = qualification.company
    rows = standing(company, on=on).filter(Q(valid_until__isnull=True) | Q(valid_until__gte=on))
    wanted = Q(kind=RecordKind.MODULE, subject__in=definition.module_slugs)
    own = Q(kind=RecordKind.QUALIFICATION, subject=qualification.slug)
    until: dict[tuple[int, str, str], date] = {}
    for *key, last in rows.filter(wanted | own).values_list("account_id", "kind", "subject", "valid_until"):
        until[tuple(key)] = max(until.get(tuple(key), date.min), last or date.max)
    holders = {account for account, kind, _subject in until if kind == RecordKind.MODULE}
    members = in_force(Membership.objects.filter(company=company), key=Membership.KEY, on=on).exclude(roles="")
    people = members.filter(account_id__in=holders).select_related("account").order_by("account__name", "pk")
    titles = module_titles()
    months = definition.valid_months
    longest = date.max if months is None else months_after(on, months)
    found = []
    for row in people:
        lasts = {slug: until.get((row.account_id, "module", slug)) for slug in definition.module_slugs}
        found.append(
            Candidate(
                account=row.account,
                missing=[titles.get(slug, slug) for slug, last in lasts.items() if last is None],
                held_until=until.get((row.account_id, "qualification", qualification.slug)),
                until=min([longest, *(last for last in lasts.values() if last is not None)]),
            )
        )
    return found


# --------------------------------------------------------------------------------------------------------- register
def register_entries(company: Company, *, search: str = "") -> "QuerySet[RegisterEntry]":
    """Give the company's register, the newest entry first; search by number, serial or code of its record."""
    rows = RegisterEntry.objects.filter(company=company).select_related("record", "revocation__record")
    words = search.strip()
    if words:
        found = Q(record__serial__icontains=words) | Q(revocation__record__serial__icontains=words)
        found |= Q(record__code=read_code(words)) | Q(revocation__record__code=read_code(words))
        if words.isdecimal() and len(words) <= 18:
            found |= Q(seq=int(words))
        rows = rows.filter(found)
    return rows.order_by("-seq")


def register_head(company: Company) -> RegisterHead | None:
    """Give the head of the company's register; None before its first entry."""
    return RegisterHead.objects.filter(company=company).first()


@dataclass(frozen=True)
class EntryLine:
    """One entry of the register as its page shows it."""

    seq: int
    kind: str
    words: str
    at: datetime
    record: CompletionRecord | None
    leaf_hash: str


def entry_lines(entries: Iterable[RegisterEntry]) -> list[EntryLine]:
    """Read what entries tell, for the register's page; they were fetched with their records."""
    lines = []
    for entry in entries:
        leaf = json.loads(entry.leaf)
        revocation = getattr(entry, "revocation", None)
        lines.append(
            EntryLine(
                seq=entry.seq,
                kind=leaf["kind"],
                words=str(ENTRY_WORDS.get(leaf["kind"], leaf["kind"])),
                at=datetime.fromisoformat(leaf["at"]),
                record=getattr(entry, "record", None) or (None if revocation is None else revocation.record),
                leaf_hash=entry.leaf_hash,
            )
        )
    return lines
