"""Append-only tables: the database itself refuses a change, whoever asks."""

# ruff: noqa: S608  the table names in the statements are our own

import pytest
from django.core.management import call_command
from django.core.management.color import no_style
from django.db import DatabaseError, connection, transaction

from trainer.base import append_only, journal
from trainer.base.append_only import AppendOnlyError, append_only_models, check_triggers, lifted
from trainer.base.models import Evidence, JournalEntry
from trainer.library.models import ContentVersion
from trainer.people.models import Company

TABLE = JournalEntry._meta.db_table
ONLY_SQLITE = pytest.mark.skipif(connection.vendor != "sqlite", reason="a statement of SQLite alone")
ONLY_POSTGRESQL = pytest.mark.skipif(connection.vendor != "postgresql", reason="a statement of PostgreSQL alone")

pytestmark = pytest.mark.django_db


@pytest.fixture
def entry() -> JournalEntry:
    """Give a row of an append-only table."""
    return journal.write("something-done", "roof:1", by=None)


def refuse(statement: str, *values: str | int) -> None:
    """Run a statement that the table's trigger must refuse."""
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement, values)


def verbs() -> list[str]:
    """Give what the table says now."""
    return list(JournalEntry.objects.order_by("pk").values_list("verb", flat=True))


def test_it_refuses_update_by_raw_sql(entry: JournalEntry) -> None:
    """UPDATE does not reach a row."""
    refuse(f"UPDATE {TABLE} SET verb = %s WHERE id = %s", "something-else", entry.pk)

    assert verbs() == ["something-done"]


def test_it_refuses_delete_by_raw_sql(entry: JournalEntry) -> None:
    """DELETE does not reach a row."""
    refuse(f"DELETE FROM {TABLE} WHERE id = %s", entry.pk)

    assert verbs() == ["something-done"]


def test_it_refuses_an_upsert(entry: JournalEntry) -> None:
    """INSERT … ON CONFLICT DO UPDATE changes no row."""
    columns = "id, at, verb, subject, details"
    refuse(
        f"INSERT INTO {TABLE} ({columns}) SELECT id, at, 'something-else', subject, details FROM {TABLE} WHERE id = %s"
        " ON CONFLICT (id) DO UPDATE SET verb = excluded.verb",
        entry.pk,
    )

    assert verbs() == ["something-done"]


@ONLY_SQLITE
def test_it_refuses_replace_over_the_primary_key(entry: JournalEntry) -> None:
    """REPLACE, which deletes the row that stands in its way, is refused."""
    refuse(f"REPLACE INTO {TABLE} (id, at, verb, subject, details) SELECT id, at, 'x', subject, details FROM {TABLE}")

    assert verbs() == ["something-done"]


@ONLY_SQLITE
def test_it_refuses_replace_over_another_key_even_without_recursive_triggers() -> None:
    """A connection that never heard of our settings cannot REPLACE over a unique column."""
    kept = Evidence.store({"answer": "24 ft"})
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA recursive_triggers = OFF")
    try:
        refuse(
            "REPLACE INTO base_evidence (digest, body, stored_at) SELECT digest, 'forged', stored_at FROM base_evidence"
        )
    finally:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA recursive_triggers = ON")

    assert Evidence.objects.get(pk=kept.pk).text == '{"answer":"24 ft"}'


@ONLY_SQLITE
def test_it_refuses_replace_over_a_key_that_holds_under_a_condition() -> None:
    """Two content versions for all companies share no path and digest; a company's own may repeat them."""
    kept = ContentVersion.objects.create(kind="lesson", path="a/lesson.en.md", sha256="0" * 64, text="Lap 4 in")
    company = Company.objects.create(name="Own Roofing", slug="own")
    columns = "kind, path, sha256, text, company_id, loaded_at"
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA recursive_triggers = OFF")
    try:
        refuse(
            f"REPLACE INTO library_contentversion ({columns})"
            " SELECT kind, path, sha256, 'Lap 1 in', company_id, loaded_at FROM library_contentversion"
        )
        ContentVersion.objects.create(
            kind="lesson", path=kept.path, sha256=kept.sha256, text="Lap 4 in", company=company
        )
        refuse(
            f"REPLACE INTO library_contentversion ({columns})"
            " SELECT kind, path, sha256, 'Lap 1 in', company_id, loaded_at FROM library_contentversion"
            " WHERE company_id IS NOT NULL"
        )
    finally:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA recursive_triggers = ON")

    assert set(ContentVersion.objects.values_list("text", flat=True)) == {"Lap 4 in"}


@ONLY_POSTGRESQL
@pytest.mark.parametrize("more", ["", " CASCADE"])
def test_it_refuses_truncate(entry: JournalEntry, more: str) -> None:
    """TRUNCATE does not empty a table."""
    refuse(f"TRUNCATE {TABLE}{more}")

    assert verbs() == ["something-done"]


def test_it_refuses_changes_through_the_model(entry: JournalEntry) -> None:
    """Code gets an error that names the table and says to add a row."""
    entry.verb = "something-else"
    for change in (
        entry.save,
        entry.delete,
        JournalEntry.objects.all().delete,
        lambda: JournalEntry.objects.update(verb="something-else"),
    ):
        with pytest.raises(AppendOnlyError, match=r"base\.JournalEntry"):
            change()


def test_it_guards_every_append_only_table() -> None:
    """No append-only table of any app lacks a trigger."""
    assert len(append_only_models()) > 5
    assert check_triggers(databases=["default"]) == []


def test_it_reports_a_trigger_that_is_missing() -> None:
    """The check names the table and the trigger, and says how to put it back."""
    name = f"append_only_{TABLE}_update"
    on_table = f" ON {TABLE}" if connection.vendor == "postgresql" else ""
    with connection.cursor() as cursor:
        cursor.execute(f"DROP TRIGGER {name}{on_table}")

    problems = check_triggers(databases=["default"])

    assert [problem.id for problem in problems] == ["base.E001"]
    assert name in problems[0].msg
    assert "migrate" in str(problems[0].hint)


@ONLY_POSTGRESQL
def test_it_reports_a_trigger_that_is_switched_off() -> None:
    """A trigger that PostgreSQL was told not to run counts as missing."""
    with connection.cursor() as cursor:
        cursor.execute(f"ALTER TABLE {TABLE} DISABLE TRIGGER append_only_{TABLE}_delete")

    assert [problem.id for problem in check_triggers(databases=["default"])] == ["base.E001"]


def test_it_checks_no_database_that_it_is_not_asked_about() -> None:
    """`manage.py check` without a database opens none."""
    append_only.remove()

    assert check_triggers(databases=None) == []


def test_it_lifts_only_inside_the_block(entry: JournalEntry) -> None:
    """A data migration may change rows inside `lifted`; after it, and after an error in it, nobody may."""
    with lifted("the test changes a row"), connection.cursor() as cursor:
        cursor.execute(f"UPDATE {TABLE} SET verb = 'mended'")
    refuse(f"UPDATE {TABLE} SET verb = 'again'")
    with pytest.raises(RuntimeError), lifted("the test fails inside"):
        raise RuntimeError
    refuse(f"UPDATE {TABLE} SET verb = 'again'")

    assert verbs() == ["mended"]


def test_it_wants_a_reason_to_lift(entry: JournalEntry) -> None:
    """Lifting without a reason is refused, and lifts nothing."""
    with pytest.raises(ValueError, match="reason"), lifted("  "):
        pass

    refuse(f"DELETE FROM {TABLE}")


@pytest.mark.django_db(transaction=True)
def test_it_puts_triggers_back_after_migrate() -> None:
    """`migrate` ends with every trigger in place, also those that SQLite dropped with an altered table."""
    append_only.remove()
    assert check_triggers(databases=["default"]) != []

    call_command("migrate", verbosity=0)

    assert check_triggers(databases=["default"]) == []


def test_it_takes_rows_that_clash_with_nothing() -> None:
    """The guard of INSERT lets new rows in, and a second one of the same digest fails as a clash of keys does."""
    first = Evidence.store({"n": 1})
    Evidence.store({"n": 2})
    with pytest.raises(DatabaseError), transaction.atomic():
        Evidence.objects.create(digest=first.digest, body=first.body)

    assert Evidence.objects.count() == 2


def test_it_refuses_a_flush(entry: JournalEntry) -> None:
    """What `manage.py flush` runs is refused outside tests; only the tests' own flush lifts the triggers."""
    statements = connection.ops.sql_flush(no_style(), [TABLE], allow_cascade=True)
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        connection.ops.execute_sql_flush(statements)

    assert verbs() == ["something-done"]
