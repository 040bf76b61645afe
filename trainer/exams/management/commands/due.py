"""Do what the clock asks for: end sittings whose time is up. For a scheduler, every minute or so."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from trainer.base.canonical import canonical_text
from trainer.exams.services import end_overdue


class Command(BaseCommand):
    """Run what is due; safe to run twice, or on two machines at once."""

    help = "End and score the sittings whose time is up. Safe to run twice; a scheduler runs it every minute."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--json", action="store_true", help="print the counts as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        ended = end_overdue()
        if options["json"]:
            self.stdout.write(canonical_text({"sittings_ended": ended.count, "sittings_failed": list(ended.failed)}))
        else:
            self.stdout.write(f"Sittings ended by the clock: {ended.count}.")
        if ended.failed:
            raise CommandError(f"These sittings could not be scored and stay open: {', '.join(ended.failed)}.")
