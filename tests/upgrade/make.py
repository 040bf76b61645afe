"""Keep a small database as this version makes it, so that later versions can be tried on it.

Run `python3 -m tests.upgrade.make NAME` after a version has landed; it writes `fixtures/upgrade/NAME.sqlite3.xz`.
"""

import lzma
import os
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
FOLDER = ROOT / "fixtures" / "upgrade"


def main() -> None:
    """Build the demo with one small crew in a new SQLite file and compress it."""
    with tempfile.TemporaryDirectory() as data:
        os.environ.update(TRAINER_MODE="demo", TRAINER_DATA=data, DJANGO_SETTINGS_MODULE="trainer.settings")
        import django

        django.setup()
        from django.conf import settings
        from django.core.management import call_command
        from django.db import connection

        from tests.home.test_demo import build_small

        call_command("migrate", verbosity=0)
        call_command("createcachetable", verbosity=0)
        build_small(settings.LESSONS_DIR)
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            cursor.execute("PRAGMA journal_mode=DELETE")
            cursor.execute("VACUUM")
        connection.close()
        FOLDER.mkdir(exist_ok=True)
        packed = lzma.compress((Path(data) / "trainer.sqlite3").read_bytes(), preset=9)
        (FOLDER / f"{sys.argv[1]}.sqlite3.xz").write_bytes(packed)


if __name__ == "__main__":
    main()
