"""What a record shows a reader, on its page, on paper and to a stranger, in the language that is active.

Everything is read from the record's document and its sealed names, never from today's rows: a record says for ever what
it said on its first day.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.utils import formats
from django.utils.translation import gettext as _

from trainer.records import documents, queries
from trainer.records.models import CompletionRecord, RevocationReason
from trainer.records.states import VERDICT_WORDS, Verdict, verdict_on


@dataclass(frozen=True)
class Line:
    """One line of the sheet: what, and the value or values."""

    label: str
    values: list[str]


@dataclass(frozen=True)
class Sheet:
    """A record as it is shown: headings, lines, title block, state."""

    record: CompletionRecord
    name: str
    number: str
    company: str
    title: str
    statement: str
    lines: list[Line]
    block: list[Line]
    verdict: Verdict
    verdict_words: str
    revoked: str  # why and since when, empty while it stands
    signer: str  # name to print under the signature line, empty where nobody is named
    address: str  # where anybody can verify it


def sheet_of(record: CompletionRecord) -> Sheet:
    """Work out what a record shows; two queries beside the record's own."""
    document = documents.read(record)
    language = queries.page_language()
    names = queries.printed_names([record.holder_digest, record.assigner_digest])
    holder = names.get(record.holder_digest, {})
    title = str(document["subject"]["title"][language])
    verdict = verdict_on(record, record.company.today())
    return Sheet(
        record=record,
        name=holder.get("name") or _("name erased"),
        number=holder.get("number", ""),
        company=str(document["company"]["name"]),
        title=title,
        statement=str(document["statement"][language]),
        lines=_lines(record, document, names),
        block=_block(record, document),
        verdict=verdict,
        verdict_words=str(VERDICT_WORDS[verdict]),
        revoked=_revoked(record),
        signer=names.get(record.assigner_digest, {}).get("name", ""),
        address=address_of(record),
    )


def sheets_of(records: list[CompletionRecord]) -> list[Sheet]:
    """Work out what several records show, as a list of one person's own."""
    return [sheet_of(record) for record in records]


def address_of(record: CompletionRecord) -> str:
    """Give the address that verifies the record, in capitals: a QR code of capitals is smaller."""
    return f"{settings.ORIGIN.upper()}/V/{record.code}"


def spaced(code: str) -> str:
    """Write a code in groups of four, as people read it aloud."""
    return " ".join(code[start : start + 4] for start in range(0, len(code), 4))


def day_text(day: date) -> str:
    """Write a day with its month in words."""
    return str(formats.date_format(day, "DATE_FORMAT"))


def days_text(first: date, last: date) -> str:
    """Write one day, or the first and the last."""
    if first == last:
        return day_text(first)
    return _("%(first)s to %(last)s") % {"first": day_text(first), "last": day_text(last)}


def until_text(valid_until: date | None) -> str:
    """Write the last day, or that there is none."""
    return _("no end") if valid_until is None else day_text(valid_until)


def _lines(record: CompletionRecord, document: dict[str, Any], names: dict[str, dict[str, str]]) -> list[Line]:
    days = [date.fromisoformat(document["training"][key]) for key in ("first", "last")]
    assigner = names.get(record.assigner_digest, {}).get("name", "")
    if document.get("assigned_by") or document.get("issued_by"):
        assigner = assigner or _("name erased")
    of_kind = _module_lines(document) if record.kind == "module" else _qualification_lines(document)
    trainer = [Line(_("Trainer who assigned it") if record.kind == "module" else _("Issued by"), [assigner])]
    return [
        *of_kind,
        Line(_("Training"), [days_text(days[0], days[1])]),
        *(trainer if assigner else []),
        Line(_("Decision"), [_decision(record, document)]),
        Line(_("Effective"), [day_text(record.effective_on)]),
        Line(_("Valid until"), [until_text(record.valid_until)]),
    ]


def _module_lines(document: dict[str, Any]) -> list[Line]:
    specification, score, critical = document["specification"], document["score"], document["critical"]
    language = _("Spanish") if document["language"].startswith("es") else _("English")
    questions = len(critical["questions"])
    return [
        Line(
            _("Specification"),
            [
                _("%(name)s, revision %(revision)s")
                % {"name": specification["name"], "revision": specification["revision"]}
            ],
        ),
        Line(_("Module version"), [str(document["module"]["version"])[:8]]),
        Line(_("Language of the exam"), [language]),
        Line(
            _("Score"),
            [
                _("%(right)s of %(of)s questions right; passing score %(passing)s")
                % {"right": score["right"], "of": score["of"], "passing": score["passing"]}
            ],
        ),
        *(
            [Line(_("Critical questions"), [_("%(count)s, none missed") % {"count": questions}])]
            if questions and not critical["missed"]
            else []
        ),
        Line(
            _("Sitting"),
            [
                _("%(ref)s, evidence %(digest)s")
                % {"ref": document["sitting"]["ref"][:8], "digest": document["sitting"]["evidence"][:16]}
            ],
        ),
    ]


def _qualification_lines(document: dict[str, Any]) -> list[Line]:
    language = queries.page_language()
    bases = queries.records_by_ref([base["record"] for base in document["rests_on"]])
    values = [
        _("%(title)s, record %(serial)s")
        % {"title": documents.read(base)["subject"]["title"][language], "serial": base.serial}
        for base in bases
    ]
    return [Line(_("Rests on"), values)]


def _decision(record: CompletionRecord, document: dict[str, Any]) -> str:
    at = datetime.strptime(document["decision"]["at"], "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC)
    when = formats.date_format(at.astimezone(ZoneInfo(record.company.time_zone)), "DATETIME_FORMAT")
    if document["decision"]["by"]:
        return str(when)
    return _("%(when)s, by the exam plan's rule") % {"when": when}


def _block(record: CompletionRecord, document: dict[str, Any]) -> list[Line]:
    return [
        Line(_("Company"), [str(document["company"]["name"])]),
        Line(_("Serial"), [record.serial]),
        Line(_("Register entry"), [str(record.entry.seq)]),
        Line(_("Code"), [spaced(record.code)]),
    ]


def _revoked(record: CompletionRecord) -> str:
    revocation = record.revoked
    if revocation is None:
        return ""
    reason = RevocationReason(revocation.reason_code).label
    return _("Revoked from %(day)s on: %(reason)s.") % {"day": day_text(revocation.effective_from), "reason": reason}
