"""An upgrade loses nothing: databases made by earlier versions are migrated and read."""

import lzma
import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
KEPT = sorted((ROOT / "fixtures" / "upgrade").glob("*.sqlite3.xz"))
EVIDENCE = (
    "base_evidence",
    "base_sealed",
    "exams_sheetanswer",
    "exams_sitting",
    "exams_sittingscore",
    "library_contentversion",
    "people_account",
    "people_membership",
    "records_completionrecord",
    "records_registerentry",
    "training_reading",
)


def rows(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Read what may never be lost, in the columns that the table had, ordered by id."""
    with sqlite3.connect(path) as database:
        return {table: database.execute(f"SELECT * FROM {table} ORDER BY id").fetchall() for table in EVIDENCE}


def manage(data: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a command on the database in the folder."""
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("TRAINER_", "DATABASE_"))}
    environment = {**kept, "TRAINER_MODE": "demo", "TRAINER_DATA": str(data)}
    command = [sys.executable, "manage.py", *words]
    return subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)


def test_it_has_a_database_to_try() -> None:
    """There is at least one database of an earlier version."""
    assert KEPT


@pytest.mark.parametrize("packed", KEPT, ids=lambda path: path.name.split(".")[0])
def test_it_migrates_a_database_of_an_earlier_version_without_losing_a_row(packed: Path, tmp_path: Path) -> None:
    """After the migration every row of evidence is there, the triggers are in place and the register agrees."""
    path = tmp_path / "trainer.sqlite3"
    path.write_bytes(lzma.decompress(packed.read_bytes()))
    before = rows(path)
    migrated = manage(tmp_path, "migrate", "--verbosity", "0")
    after = rows(path)

    assert migrated.returncode == 0, migrated.stderr
    assert all(before.values()), [table for table, found in before.items() if not found]
    for table, found in before.items():
        assert [row[0] for row in after[table]] == [row[0] for row in found], table
        missing = [row for row, new in zip(found, after[table], strict=True) if not set(row) <= set(new)]
        assert not missing, table
    checked = manage(tmp_path, "check", "--database", "default")
    assert checked.returncode == 0, checked.stderr
    verified = manage(tmp_path, "verify_register", "--json")
    assert verified.returncode == 0, verified.stdout
