"""Do what the clock asks for: end sittings, let old practice go. For a scheduler, every few minutes."""

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from trainer.base.canonical import canonical_text
from trainer.exams.services import end_overdue
from trainer.training.services import prune_all


class Command(BaseCommand):
    """Run what is due; safe to run twice, or on two machines at once."""

    help = (
        "End and score the sittings whose time is up, and delete practice that is older than its company keeps. "
        "Safe to run twice; a scheduler runs it every few minutes."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--json", action="store_true", help="print the counts as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        ended, pruned = end_overdue(), prune_all()
        if options["json"]:
            counts = {
                "practice_failed": list(pruned.failed),
                "practice_pruned": pruned.count,
                "sittings_ended": ended.count,
                "sittings_failed": list(ended.failed),
            }
            self.stdout.write(canonical_text(counts))
        else:
            self.stdout.write(f"Sittings ended by the clock: {ended.count}.")
            self.stdout.write(f"Practice cases deleted because of their age: {pruned.count}.")
        problems = []
        if ended.failed:
            problems.append(f"These sittings could not be scored and stay open: {', '.join(ended.failed)}.")
        if pruned.failed:
            problems.append(f"The practice of these companies could not be pruned: {', '.join(pruned.failed)}.")
        if problems:
            raise CommandError(" ".join(problems))
