"""What a passed sitting leaves behind: one record, one register entry, names sealed apart."""

import json
from datetime import UTC, date, datetime

import pytest
from django.db import IntegrityError, transaction

from tests import factories
from tests.records import scene
from trainer.base import clock
from trainer.base.append_only import AppendOnlyError
from trainer.base.canonical import canonical_text, sha256_hex
from trainer.base.errors import Refused
from trainer.base.models import Evidence, Sealed
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.records import merkle, register, services
from trainer.records.models import CompletionRecord, Qualification, RecordRevocation, RegisterEntry, RegisterHead
from trainer.training.models import Assignment

DAY = date(2026, 1, 31)


def define(
    company: Company, *, months: int | None = None, modules: str = "base-sheet-layout edge-metal"
) -> Qualification:
    """Publish a qualification that takes the two modules."""
    for slug in modules.split():
        scene.module(slug)
    with clock.fixed(scene.at(date(2025, 1, 1))):
        definition = services.define_qualification(
            company=company,
            by=None,
            title_en="Two-ply hand",
            title_es="Operario de dos capas",
            modules=modules.split(),
            valid_months=months,
            effective_from=date(2025, 1, 1),
        )
    return definition.qualification


def test_it_says_who_what_when_under_which_specification_and_score(trainee: Member, trainer: Member) -> None:
    """The document holds what a completion record must say, and the columns repeat it."""
    with clock.fixed(scene.at(date(2026, 1, 5))):
        Assignment.objects.create(
            company=trainee.company,
            module="base-sheet-layout",
            account=trainee.account,
            due=DAY,
            made_by=trainer.account,
        )
    record = scene.record(trainee, day=DAY)

    document = scene.document_of(record)
    assert document["statement"]["en"] == "completion of Base sheet layout and laps; not a safety certification"
    assert document["person"]["ref"] == str(trainee.account.ref)
    assert document["specification"] == {"name": "two-ply-self-adhered", "revision": "2026"}
    assert document["module"]["version"] == record.module_version.digest
    assert document["score"] == {"right": 9, "of": 10, "passing": 8}
    assert document["critical"] == {"questions": ["base-sheet-layout/ply-offset"], "missed": 0}
    assert document["assigned_by"]["ref"] == str(trainer.account.ref)
    assert document["sitting"]["evidence"] == record.sitting.score.evidence.digest
    assert (document["effective"], document["valid_until"]) == ("2026-01-31", "2028-01-31")
    assert record.document.digest == sha256_hex(record.document.text)
    assert canonical_text(document) == record.document.text


def test_it_keeps_names_only_in_sealed_texts(trainee: Member) -> None:
    """Neither document nor register entry holds the person's name; the sealed text does, bound by its digest."""
    record = scene.record(trainee, day=DAY)

    assert trainee.account.name not in record.document.text
    assert trainee.account.name not in record.entry.leaf
    sealed = Sealed.objects.get(digest=record.holder_digest)
    assert json.loads(sealed.text)["name"] == trainee.account.name
    assert sealed.subject == trainee.account.ref


def test_it_enters_the_record_in_the_register(trainee: Member) -> None:
    """The leaf names the record and its document's digest; head and root move with it."""
    first = scene.record(trainee, day=DAY)
    second = scene.record(trainee, "edge-metal", day=DAY)

    leaf = json.loads(second.entry.leaf)
    assert leaf == {
        "v": 1,
        "seq": 1,
        "company": str(trainee.company.ref),
        "at": "2026-01-31T18:00:00Z",
        "kind": "issued",
        "record": str(second.ref),
        "digest": second.document.digest,
        "by": "",
        "reason_code": "",
    }
    head = RegisterHead.objects.get(company=trainee.company)
    leaves = [merkle.leaf_hash(entry.leaf.encode()) for entry in (first.entry, second.entry)]
    assert (head.size, head.root) == (2, merkle.root_of(leaves).hex())
    assert [first.serial, second.serial] == ["2026-00001", "2026-00002"]


def test_it_issues_nothing_for_a_sitting_not_passed(trainee: Member) -> None:
    """A score below the passing score leaves no record and no entry."""
    scene.scored(trainee, day=DAY, right=7)

    assert not CompletionRecord.objects.exists()
    assert not RegisterEntry.objects.exists()


def test_it_issues_once_for_a_sitting(trainee: Member) -> None:
    """A second signal for the same sitting is refused by the database and leaves the register as it was."""
    sitting, score = scene.scored(trainee, day=DAY)

    with pytest.raises(IntegrityError), transaction.atomic():
        services.issue_module_record(sitting=sitting, score=score)

    assert CompletionRecord.objects.count() == 1
    assert RegisterHead.objects.get(company=trainee.company).size == RegisterEntry.objects.count() == 1


def test_it_undoes_the_score_when_the_record_fails(trainee: Member, monkeypatch: pytest.MonkeyPatch) -> None:
    """Score and record are one transaction: a failing register leaves neither."""

    def fail(**_arguments: object) -> None:
        raise RuntimeError("the register cannot be written")

    monkeypatch.setattr(register, "append", fail)
    with pytest.raises(RuntimeError, match="register cannot be written"), transaction.atomic():
        scene.scored(trainee, day=DAY)

    assert not CompletionRecord.objects.exists()
    assert not Sealed.objects.exists()
    assert not trainee.account.sittings.exists()


def test_it_ends_on_the_last_day_of_a_shorter_month(trainee: Member) -> None:
    """One month after January 31 is February 28."""
    assert scene.record(trainee, day=DAY, months=1).valid_until == date(2026, 2, 28)


def test_it_takes_the_day_of_the_company_not_of_utc(trainee: Member) -> None:
    """A sitting that ends at 8 in the evening in Chicago counts for that day, although it is past midnight in UTC."""
    sitting, _score = scene.scored(trainee, day=DAY, ended=datetime(2026, 2, 1, 2, 0, tzinfo=UTC))

    assert sitting.record.effective_on == DAY


def test_it_refuses_to_change_a_record(trainee: Member) -> None:
    """A record that is there is never saved again."""
    record = scene.record(trainee, day=DAY)
    record.valid_until = None

    with pytest.raises(AppendOnlyError):
        record.save()


# --------------------------------------------------------------------------------------------------- qualifications
def test_it_issues_a_qualification_until_the_first_of_its_modules_lapses(trainee: Member, office: Member) -> None:
    """Valid until is the earliest of the modules' last days and the qualification's own."""
    qualification = define(trainee.company, months=36)
    first = scene.record(trainee, day=DAY, months=24)
    second = scene.record(trainee, "edge-metal", day=date(2026, 2, 2), months=12)
    with clock.fixed(scene.at(date(2026, 3, 1))):
        record = services.issue_qualification(qualification=qualification, account=trainee.account, by=office.account)

    document = scene.document_of(record)
    assert record.valid_until == second.valid_until == date(2027, 2, 2)
    assert record.effective_on == date(2026, 3, 1)
    assert document["rests_on"] == [
        {"record": str(first.ref), "digest": first.document.digest},
        {"record": str(second.ref), "digest": second.document.digest},
    ]
    assert document["training"] == {"first": "2026-01-31", "last": "2026-03-01"}


def test_it_ends_a_qualification_with_its_own_months_when_those_end_first(trainee: Member, office: Member) -> None:
    """The qualification's own months count from the day it was issued."""
    qualification = define(trainee.company, months=6)
    scene.record(trainee, day=DAY)
    scene.record(trainee, "edge-metal", day=DAY)
    with clock.fixed(scene.at(date(2026, 3, 1))):
        record = services.issue_qualification(qualification=qualification, account=trainee.account, by=office.account)

    assert record.valid_until == date(2026, 9, 1)


def test_it_names_the_modules_that_are_not_held(trainee: Member, office: Member) -> None:
    """A qualification is refused while a module is missing or lapsed, and says which."""
    qualification = define(trainee.company)
    scene.record(trainee, day=DAY)
    scene.record(trainee, "edge-metal", day=DAY, months=1)

    with clock.fixed(scene.at(date(2026, 3, 1))), pytest.raises(Refused, match="Not held on this day: Edge metal"):
        services.issue_qualification(qualification=qualification, account=trainee.account, by=office.account)


def test_it_does_not_issue_what_is_held_as_long_already(trainee: Member, office: Member) -> None:
    """Pressing the button twice issues one record."""
    qualification = define(trainee.company)
    scene.record(trainee, day=DAY)
    scene.record(trainee, "edge-metal", day=DAY)
    with clock.fixed(scene.at(date(2026, 3, 1))):
        services.issue_qualification(qualification=qualification, account=trainee.account, by=office.account)
        with pytest.raises(Refused, match="already holds"):
            services.issue_qualification(qualification=qualification, account=trainee.account, by=office.account)


def test_it_does_not_issue_a_qualification_that_is_no_longer_given(trainee: Member, office: Member) -> None:
    """A definition without modules ends the qualification from its day on."""
    qualification = define(trainee.company)
    scene.record(trainee, day=DAY)
    scene.record(trainee, "edge-metal", day=DAY)
    with clock.fixed(scene.at(date(2026, 3, 1))):
        services.define_qualification(
            company=trainee.company,
            by=office.account,
            title_en="Two-ply hand",
            title_es="Operario de dos capas",
            modules=[],
            valid_months=None,
            effective_from=date(2026, 3, 1),
            qualification=qualification,
        )
        with pytest.raises(Refused, match="not given on this day"):
            services.issue_qualification(qualification=qualification, account=trainee.account, by=office.account)


# ----------------------------------------------------------------------------------------------------------- revoke
def test_it_revokes_once_with_a_reason_and_seals_the_words(trainee: Member, office: Member) -> None:
    """The register and the row hold the code; the words are sealed; a second revocation is refused."""
    record = scene.record(trainee, day=DAY)
    with clock.fixed(scene.at(date(2026, 4, 1))):
        revocation = services.revoke(
            record=record, by=office.account, reason_code="work-shows-a-gap", reason="Laps open on every course."
        )
        with pytest.raises(Refused, match="already revoked"):
            services.revoke(record=record, by=office.account, reason_code="work-shows-a-gap", reason="Again.")

    assert revocation.effective_from == date(2026, 4, 1)
    assert json.loads(revocation.entry.leaf)["reason_code"] == "work-shows-a-gap"
    assert "Laps open" not in revocation.entry.leaf + revocation.document.text
    assert Sealed.objects.get(digest=revocation.reason_digest).text == "Laps open on every course."


def test_it_revokes_what_rests_on_a_revoked_record(trainee: Member, office: Member) -> None:
    """A qualification falls with a module that it rests on, with its own entry and reason."""
    qualification = define(trainee.company)
    scene.record(trainee, day=DAY)
    edge = scene.record(trainee, "edge-metal", day=DAY)
    with clock.fixed(scene.at(date(2026, 3, 1))):
        carried = services.issue_qualification(qualification=qualification, account=trainee.account, by=office.account)
    with clock.fixed(scene.at(date(2026, 4, 1))):
        services.revoke(record=edge, by=office.account, reason_code="not-own-answers", reason="", from_the_start=True)

    fallen = RecordRevocation.objects.get(record=carried)
    assert (fallen.reason_code, fallen.effective_from) == ("basis-revoked", date(2026, 3, 1))
    assert RecordRevocation.objects.get(record=edge).effective_from == DAY


def test_it_asks_for_words_with_another_reason(trainee: Member, office: Member) -> None:
    """`other` without words tells nobody anything."""
    record = scene.record(trainee, day=DAY)

    with pytest.raises(Refused, match="few words") as refused:
        services.revoke(record=record, by=office.account, reason_code="other", reason="  ")

    assert refused.value.field == "reason"


def test_it_keeps_the_registers_of_two_companies_apart(trainee: Member, outsider: Member) -> None:
    """Each company counts from nought in its own register."""
    scene.record(trainee, day=DAY)
    other = scene.record(outsider, day=DAY)

    assert other.entry.seq == 0
    assert other.serial == "2026-00001"


def test_it_keeps_one_document_a_record(trainee: Member, company: Company) -> None:
    """Two records of two people are two documents, whatever else they share."""
    second = factories.member(company)
    records = [scene.record(person, day=DAY) for person in (trainee, second)]

    assert len({record.document_id for record in records}) == 2
    assert Evidence.objects.filter(record__isnull=False).count() == 2
