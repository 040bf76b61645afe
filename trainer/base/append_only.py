"""Append-only tables: the abstract model, and the database triggers that keep even raw SQL from changing a row.

Each subclass of `AppendOnly` gets triggers that refuse UPDATE and DELETE, TRUNCATE on PostgreSQL, and INSERT over an
existing key on SQLite. SQLite drops triggers when a table is altered, so they are put back after every migrate and a
check reports a missing one. A `Sealed` row alone may be deleted, and only under an erasure order for its subject.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from django.apps import apps
from django.core.checks import CheckMessage, Error
from django.db import connections, models, transaction
from django.db.backends.base.base import BaseDatabaseWrapper

PREFIX = "append_only"
ERASURE = "NOT EXISTS (SELECT 1 FROM base_erasureorder WHERE base_erasureorder.subject = OLD.subject)"


class AppendOnlyError(Exception):
    """Code tried to change or delete a row of an append-only table."""


class AppendOnlyQuerySet(models.QuerySet[Any]):
    """Refuse changes early, with a better message than the trigger's."""

    def update(self, **values: Any) -> int:
        """Refuse; a change is a new row."""
        raise AppendOnlyError(
            f"{self.model._meta.label} is append-only: add a row instead of updating {sorted(values)}"
        )

    def delete(self) -> tuple[int, dict[str, int]]:
        """Refuse; the end of something is a new row."""
        raise AppendOnlyError(f"{self.model._meta.label} is append-only: rows are not deleted")


class AppendOnly(models.Model):
    """A row that is written once. Its state is told by later rows."""

    class Meta:
        abstract = True

    objects = AppendOnlyQuerySet.as_manager()

    def save(self, *args: Any, **kwargs: Any) -> None:
        """Insert the row; refuse to save one that is already there."""
        if not self._state.adding:
            raise AppendOnlyError(f"{self._meta.label} {self.pk} is append-only: add a row instead of changing it")
        kwargs["force_insert"] = True
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        """Refuse; the end of something is a new row."""
        raise AppendOnlyError(f"{self._meta.label} {self.pk} is append-only: rows are not deleted")


def append_only_models() -> list[type[models.Model]]:
    """List every concrete append-only model, by table name."""
    found = [model for model in apps.get_models() if issubclass(model, AppendOnly)]
    return sorted(found, key=lambda model: model._meta.db_table)


def install(using: str = "default") -> None:
    """Put the triggers of every append-only table in place; safe to run again."""
    connection = connections[using]
    existing = set(connection.introspection.table_names())
    with transaction.atomic(using=using), connection.cursor() as cursor:
        for model in append_only_models():
            if model._meta.db_table in existing:
                for statement in _statements(model, connection):
                    cursor.execute(statement)


def remove(using: str = "default") -> None:
    """Take the triggers away; only `lifted` calls this."""
    connection = connections[using]
    with transaction.atomic(using=using), connection.cursor() as cursor:
        for name, table in _installed(using):
            on_table = f' ON "{table}"' if connection.vendor == "postgresql" else ""
            cursor.execute(f'DROP TRIGGER IF EXISTS "{name}"{on_table}')


@contextmanager
def lifted(reason: str, using: str = "default") -> Iterator[None]:
    """Lift the triggers inside the block, for a flush of a test database or a data migration with a reason.

    Raises:
        ValueError: No reason is given.
    """
    if not reason.strip():
        raise ValueError("lifting the append-only triggers needs a reason")
    remove(using)
    try:
        yield
    finally:
        install(using)


def install_after_migrate(using: str, **_kwargs: Any) -> None:
    """Put the triggers back after `migrate`."""
    install(using)


def check_triggers(
    *,
    app_configs: Any = None,  # noqa: ARG001  Django passes it by this name
    databases: Sequence[str] | None = None,
    **_kwargs: Any,
) -> list[CheckMessage]:
    """Report each append-only table that lacks one of its triggers (`base.E001`)."""
    problems: list[CheckMessage] = []
    for using in databases or []:
        connection = connections[using]
        existing = set(connection.introspection.table_names())
        present = {name for name, _table in _installed(using)}
        for model in append_only_models():
            table = model._meta.db_table
            missing = [name for name in _names(table, connection.vendor) if name not in present]
            if table in existing and missing:
                problems.append(
                    Error(
                        f"table {table} lacks the triggers {', '.join(missing)}",
                        hint="Run manage.py migrate: it puts them back.",
                        obj=model,
                        id="base.E001",
                    )
                )
    return problems


def _names(table: str, vendor: str) -> list[str]:
    last = "truncate" if vendor == "postgresql" else "insert"
    return [f"{PREFIX}_{table}_{action}"[:63] for action in ("update", "delete", last)]


def _installed(using: str) -> list[tuple[str, str]]:
    connection = connections[using]
    query = (
        "SELECT t.tgname, c.relname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid"
        " JOIN pg_namespace n ON n.oid = c.relnamespace"
        " WHERE NOT t.tgisinternal AND t.tgenabled <> 'D' AND n.nspname = current_schema() AND t.tgname LIKE %s"
        if connection.vendor == "postgresql"
        else "SELECT name, tbl_name FROM sqlite_master WHERE type = 'trigger' AND name LIKE %s"
    )
    with connection.cursor() as cursor:
        cursor.execute(query, [f"{PREFIX}_%"])
        return [(row[0], row[1]) for row in cursor.fetchall()]


def _statements(model: type[models.Model], connection: BaseDatabaseWrapper) -> list[str]:
    sealed = getattr(model, "erasable", False)
    table = model._meta.db_table
    if connection.vendor == "postgresql":
        return _postgresql(table, sealed)
    taken = [_same(key) for key in _keys(model)] + _taken_under_conditions(model, connection)
    return _sqlite(table, taken, sealed)


def _same(key: Sequence[str]) -> str:
    return " AND ".join(f'"{column}" = NEW."{column}"' for column in key)


def _keys(model: type[models.Model]) -> list[list[str]]:
    """Give the columns of each key that a REPLACE could run over: the primary one and the unconditional unique ones."""
    meta = model._meta
    names = [[field.name] for field in meta.local_concrete_fields if field.primary_key or field.unique]
    names += [list(together) for together in meta.unique_together]
    names += [list(constraint.fields) for constraint in meta.total_unique_constraints]
    columns = {field.name: str(field.column) for field in meta.local_concrete_fields}
    return [[columns[name] for name in key] for key in names]


def _taken_under_conditions(model: type[models.Model], connection: BaseDatabaseWrapper) -> list[str]:
    """Say in SQL when a row stands in the way of a new one by a key that holds for some rows only, both among them."""
    columns = {field.name: str(field.column) for field in model._meta.local_concrete_fields}
    new = ", ".join(f'NEW."{column}" AS "{column}"' for column in columns.values())
    found = []
    for constraint in model._meta.constraints:
        if isinstance(constraint, models.UniqueConstraint) and constraint.condition is not None:
            holds = constraint._get_condition_sql(model, connection.schema_editor())  # type: ignore[attr-defined]  # noqa: SLF001  nothing public gives it
            same = _same([columns[name] for name in constraint.fields])
            found.append(f"{same} AND {holds} AND EXISTS (SELECT 1 FROM (SELECT {new}) WHERE {holds})")  # noqa: S608  own names
    return found


def _sqlite(table: str, keys: list[str], sealed: bool) -> list[str]:
    """Guard every way to change a row; INSERT too, for REPLACE deletes unseen where recursive triggers are off."""
    update, delete, insert = _names(table, "sqlite")
    taken = " OR ".join(f"({key})" for key in keys)
    conditions = {
        update: ("UPDATE", ""),
        delete: ("DELETE", f" WHEN {ERASURE}" if sealed else ""),
        insert: ("INSERT", f' WHEN EXISTS (SELECT 1 FROM "{table}" WHERE {taken})'),  # noqa: S608  own names
    }
    made: list[str] = []
    for name, (action, when) in conditions.items():
        made.append(f'DROP TRIGGER IF EXISTS "{name}"')
        made.append(
            f'CREATE TRIGGER "{name}" BEFORE {action} ON "{table}"{when}'
            f" BEGIN SELECT RAISE(ABORT, '{table} is append-only: {action} refused'); END"
        )
    return made


def _postgresql(table: str, sealed: bool) -> list[str]:
    update, delete, truncate = _names(table, "postgresql")
    function = f"""
        CREATE OR REPLACE FUNCTION {PREFIX}_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
        BEGIN RAISE EXCEPTION '% is append-only: % refused', TG_TABLE_NAME, TG_OP; END $$"""
    erasure = f"""
        CREATE OR REPLACE FUNCTION {PREFIX}_refuse_unless_ordered() RETURNS trigger LANGUAGE plpgsql AS $$
        BEGIN
            IF {ERASURE} THEN RAISE EXCEPTION '% is append-only: % refused', TG_TABLE_NAME, TG_OP; END IF;
            RETURN OLD;
        END $$"""
    guard = f"{PREFIX}_refuse_unless_ordered" if sealed else f"{PREFIX}_refuse"
    made = [function, erasure]
    for name, action, scope, body in (
        (update, "UPDATE", "ROW", f"{PREFIX}_refuse"),
        (delete, "DELETE", "ROW", guard),
        (truncate, "TRUNCATE", "STATEMENT", f"{PREFIX}_refuse"),
    ):
        made.append(f'DROP TRIGGER IF EXISTS "{name}" ON "{table}"')
        made.append(f'CREATE TRIGGER "{name}" BEFORE {action} ON "{table}" FOR EACH {scope} EXECUTE FUNCTION {body}()')
    return made
