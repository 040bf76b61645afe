"""`verify_register` finds whatever was changed, removed or put in behind the program's back."""

import json
from collections.abc import Callable
from datetime import date
from io import StringIO
from typing import Any

import pytest
from django.core.management import call_command
from django.db import connection

from tests.records import scene
from trainer.base import clock
from trainer.base.append_only import lifted
from trainer.base.models import ErasureOrder, Sealed
from trainer.people.access import Member
from trainer.records import merkle, services
from trainer.records.models import CompletionRecord, RegisterEntry, RegisterHead
from trainer.records.verification import verify

DAY = date(2026, 1, 31)


@pytest.fixture
def records(trainee: Member, office: Member) -> list[CompletionRecord]:
    """Give two module records, a qualification that rests on them, and a revocation of a third, in one register."""
    made = [scene.record(trainee, day=DAY), scene.record(trainee, "edge-metal", day=DAY)]
    spare = scene.record(trainee, day=date(2026, 2, 20))
    with clock.fixed(scene.at(date(2026, 3, 1))):
        definition = services.define_qualification(
            company=trainee.company,
            by=office.account,
            title_en="Two-ply hand",
            title_es="Operario de dos capas",
            modules=["base-sheet-layout", "edge-metal"],
            valid_months=None,
            effective_from=date(2026, 3, 1),
        )
        services.revoke(record=spare, by=office.account, reason_code="other", reason="Wrong person at the phone.")
        earned = services.issue_qualification(
            qualification=definition.qualification, account=trainee.account, by=office.account
        )
    return [*made, spare, earned]


def execute(sql: str, *values: Any) -> None:
    """Run raw SQL as somebody with the database's password would, after lifting the triggers."""
    with lifted("a test plays the intruder"), connection.cursor() as cursor:
        cursor.execute(sql, list(values))
        assert cursor.rowcount > 0


def found() -> list[str]:
    """Give the ids of the problems."""
    return [problem.id for problem in verify().problems]


@pytest.mark.usefixtures("records")
def test_it_finds_nothing_in_a_whole_register(company: Any) -> None:
    """Six entries, no problem, and the root of the head."""
    report = verify()

    assert report.problems == []
    own = next(row for row in report.companies if row.company == company.slug)
    assert (own.entries, own.root) == (6, RegisterHead.objects.get(company=company).root)


CHANGES: dict[str, tuple[Callable[[list[CompletionRecord]], None], str]] = {
    "a record's last day": (
        lambda rows: execute(
            "UPDATE records_completionrecord SET valid_until = '2099-01-01' WHERE id = %s", rows[0].pk
        ),
        "register.E024",
    ),
    "whose record it is": (
        lambda rows: execute(
            "UPDATE records_completionrecord SET account_id ="
            " (SELECT min(id) FROM people_account WHERE id <> %s) WHERE id = %s",
            rows[0].account_id,
            rows[0].pk,
        ),
        "register.E024",
    ),
    "the document": (
        lambda rows: execute("UPDATE base_evidence SET body = %s WHERE id = %s", b"changed", rows[1].document_id),
        "register.E023",
    ),
    "a sealed name": (
        lambda rows: execute("UPDATE base_sealed SET text = 'Somebody else' WHERE digest = %s", rows[1].holder_digest),
        "register.E026",
    ),
    "a sealed name is gone without an order": (
        lambda rows: execute("DELETE FROM base_sealed WHERE digest = %s", rows[1].holder_digest),
        "register.E025",
    ),
    "a leaf": (
        lambda rows: execute(
            "UPDATE records_registerentry SET leaf = replace(leaf, 'issued', 'renewed') WHERE id = %s", rows[0].entry_id
        ),
        "register.E002",
    ),
    "the head's root": (
        lambda rows: execute("UPDATE records_registerhead SET root = %s", merkle.EMPTY_ROOT.hex()),
        "register.E012",
    ),
    "the head's edge": (lambda rows: execute("UPDATE records_registerhead SET edge = ''"), "register.E013"),
    "a revocation's reason": (
        lambda rows: execute("UPDATE records_recordrevocation SET reason_code = 'entered-in-error'"),
        "register.E034",
    ),
    "a revocation is gone": (lambda rows: execute("DELETE FROM records_recordrevocation"), "register.E032"),
    "a definition's modules": (
        lambda rows: execute("UPDATE records_qualificationdefinition SET modules = 'edge-metal'"),
        "register.E041",
    ),
    "what a qualification rests on": (
        lambda rows: execute("DELETE FROM records_recordbasis WHERE module_record_id = %s", rows[1].pk),
        "register.E024",
    ),
}


@pytest.mark.parametrize(("change", "problem"), CHANGES.values(), ids=CHANGES)
def test_it_finds_a_change(records: list[CompletionRecord], change: Any, problem: str) -> None:
    """Each kind of change is found by its own id."""
    change(records)

    assert problem in found()


def test_it_finds_an_entry_cut_from_the_middle(records: list[CompletionRecord], company: Any) -> None:
    """The numbers have a gap, the head counts more, and the record lost its entry."""
    with lifted("a test plays the intruder"), connection.constraint_checks_disabled(), connection.cursor() as cursor:
        cursor.execute("DELETE FROM records_recordbasis")
        cursor.execute("DELETE FROM records_completionrecord WHERE id = %s", [records[1].pk])
        cursor.execute("DELETE FROM records_registerentry WHERE company_id = %s AND seq = 1", [company.pk])

    assert {"register.E001", "register.E011"} <= set(found())


@pytest.mark.usefixtures("records")
def test_it_finds_a_tail_cut_from_log_and_records_alike(company: Any) -> None:
    """The head still counts what was cut."""
    last = RegisterEntry.objects.filter(company=company).latest("seq")
    execute("DELETE FROM records_recordbasis")
    execute("DELETE FROM records_completionrecord WHERE entry_id = %s", last.pk)
    execute("DELETE FROM records_registerentry WHERE id = %s", last.pk)

    assert found() == ["register.E011"]


@pytest.mark.usefixtures("records")
def test_it_finds_a_leaf_rewritten_with_its_hash(company: Any) -> None:
    """Somebody who knows how to hash a leaf still changes the root."""
    entry = RegisterEntry.objects.filter(company=company, seq=0).get()
    leaf = entry.leaf.replace("2026-01-31", "2025-01-31")
    hashed = merkle.leaf_hash(leaf.encode()).hex()
    execute("UPDATE records_registerentry SET leaf = %s, leaf_hash = %s WHERE id = %s", leaf, hashed, entry.pk)

    assert "register.E012" in found()


def test_it_stays_whole_when_a_person_is_erased(records: list[CompletionRecord], office: Member) -> None:
    """Sealed names go under an order; the register has no problem and the same root."""
    before = verify().companies
    person = records[0].account
    ErasureOrder.objects.create(subject=person.ref, ordered_by=office.account.ref, reason_code="asked")
    Sealed.objects.filter(subject=person.ref).erase()

    report = verify()
    assert report.problems == []
    assert report.companies == before


@pytest.mark.usefixtures("records")
def test_its_command_prints_the_agreed_shape(company: Any) -> None:
    """JSON `{companies:[{company, entries, root}], problems}`, and no exit while all agrees."""
    out = StringIO()
    call_command("verify_register", "--json", stdout=out)

    report = json.loads(out.getvalue())
    root = RegisterHead.objects.get(company=company).root
    assert report == {"companies": [{"company": company.slug, "entries": 6, "root": root}], "problems": []}


def test_its_command_exits_1_with_problems(records: list[CompletionRecord]) -> None:
    """A caller can tell from the exit alone; the report names the record."""
    execute("UPDATE records_completionrecord SET serial = '2026-99999' WHERE id = %s", records[0].pk)
    out = StringIO()

    with pytest.raises(SystemExit) as stopped:
        call_command("verify_register", "--json", stdout=out)

    assert stopped.value.code == 1
    problem = json.loads(out.getvalue())["problems"][0]
    assert (problem["id"], problem["where"]) == ("register.E024", "record 2026-99999")
    assert problem["message"] == "differs from its document in serial"
