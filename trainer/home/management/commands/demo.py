"""Set up, build and serve the demo: an invented year of two roofing companies, made through the services."""

import os
import secrets
import tomllib
from argparse import ArgumentParser
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection, transaction

from trainer.base import clock, journal
from trainer.base.models import JournalEntry
from trainer.home.demo.history import History, build
from trainer.people.models import Account, Company
from trainer.people.services import make_card

SCENARIO = settings.BASE_DIR / "fixtures" / "demo" / "scenario.toml"
BUILT = "demo-built"
STAFF = ("dorothea", "harriet", "emmett", "priya")
TRAINEES = ("luz", "wendell", "ximena")


class Command(BaseCommand):
    """Build the demo where there is none, then serve it on this machine."""

    help = "Set up, build and serve the demo."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--no-serve", action="store_true", help="build only")
        parser.add_argument(
            "--date", type=date.fromisoformat, help="the demo's today, YYYY-MM-DD; the same day, the same demo"
        )
        parser.add_argument("--port", type=int, default=8000, help="port on 127.0.0.1 (8000)")

    def handle(self, *_args: Any, **options: Any) -> None:
        if settings.PRODUCTION:
            raise CommandError("The demo is not built with TRAINER_MODE=production; unset TRAINER_MODE.")
        self._set_aside_other_date(options["date"])
        self.stdout.write("Setting up the database …")
        call_command("migrate", verbosity=0)
        call_command("createcachetable", verbosity=0)
        built = JournalEntry.objects.filter(verb=BUILT).order_by("pk").last()
        if built is None:
            self._build(options["date"] or datetime.now(UTC).date())
        else:
            self.stdout.write(
                f"The demo of {built.subject.removeprefix('demo:')} is already here; --date makes another."
            )
        self.stdout.write(self._sign_in_file().read_text() if self._sign_in_file().exists() else "")
        if not options["no_serve"]:
            self._serve(options["port"])

    def _set_aside_other_date(self, wanted: date | None) -> None:
        """Rename the SQLite file of a demo of another day, so that nothing in it is lost."""
        path = Path(str(settings.DATABASES["default"]["NAME"]))
        if wanted is None or connection.vendor != "sqlite" or not path.exists():
            return
        if "base_journalentry" not in connection.introspection.table_names():
            return
        built = JournalEntry.objects.filter(verb=BUILT).order_by("pk").last()
        if built is None or built.subject == f"demo:{wanted.isoformat()}":
            return
        connection.close()
        stem = f"{path.stem}-{built.subject.removeprefix('demo:')}-{datetime.now(UTC):%Y%m%d%H%M%S}"
        for suffix in ("", "-wal", "-shm"):
            part = Path(f"{path}{suffix}")
            if part.exists():
                part.rename(path.with_name(f"{stem}{path.suffix}{suffix}"))
        self.stdout.write(f"The demo of another day was set aside as {stem}{path.suffix}.")

    def _build(self, today: date) -> None:
        if Account.objects.exists() or Company.objects.exists():
            raise CommandError("This database holds people already; give the demo its own by DATABASE_URL.")
        self.stdout.write(f"Building the demo of {today.isoformat()}: a year of work, month by month …")
        scenario = tomllib.loads(SCENARIO.read_text())
        with transaction.atomic():
            history = build(scenario=scenario, folder=settings.LESSONS_DIR, today=today, say=self.stdout.write)
            journal.write(BUILT, f"demo:{today.isoformat()}", by=None)
            lines = self._sign_ins(history, today)
        path = self._sign_in_file()
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch(mode=0o600)
        path.write_text("\n".join(lines) + "\n")

    def _sign_ins(self, history: History, today: date) -> list[str]:
        """Give staff passwords and trainees card links, new for every build; only their digests are in the database."""
        password = "-".join(secrets.token_hex(2) for _part in range(4))
        lines = ["", f"Staff sign in at {settings.ORIGIN}/account/login/ with the password {password}"]
        for key in STAFF:
            account = history.accounts[key]
            account.set_password(password)
            account.save(update_fields=["password"])
            lines.append(f"  {account.email:32} {account.name}")
        lines.append("Trainees open their card's link:")
        with clock.fixed(max(datetime.now(UTC), datetime.combine(today, time(12), UTC))):
            for key in TRAINEES:
                account = history.accounts[key]
                company = history.companies["copperhollow"]
                _card, token = make_card(company=company, account=account, by=history.accounts["harriet"])
                lines.append(f"  {account.name:32} {settings.ORIGIN}/card/{token}/")
        return lines

    def _sign_in_file(self) -> Path:
        return Path(settings.DATA_DIR) / "demo-sign-in.txt"

    def _serve(self, port: int) -> None:
        self.stdout.write(f"\nServing on http://127.0.0.1:{port}/ – stop with Ctrl+C.")
        self.stdout.flush()
        connection.close()
        from granian import Granian  # noqa: PLC0415  the server is loaded only to serve
        from granian.constants import Interfaces  # noqa: PLC0415

        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "trainer.settings")
        Granian(
            "trainer.wsgi:application", address="127.0.0.1", port=port, interface=Interfaces.WSGI, workers=1
        ).serve()
