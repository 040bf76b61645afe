"""`manage.py check_lessons`: try every question, check modules, lessons and glossary; needs no database."""

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from trainer.base.clock import now
from trainer.library.rendering import make_lesson
from trainer.questions.check import CASES, check_lessons


class Command(BaseCommand):
    """Check the lessons folder."""

    help = "Check lessons, questions and specifications; exits with 1 when something is wrong."
    requires_system_checks = ()
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Declare the options."""
        parser.add_argument("folder", nargs="?", type=Path, help="the lessons folder; by default the project's own")
        parser.add_argument("--cases", type=int, default=CASES, help=f"cases of each question, at least {CASES}")
        parser.add_argument("--module", action="append", default=[], help="only this module; may be given again")
        parser.add_argument("--json", action="store_true", help="write what a program can read")

    def handle(self, **options: Any) -> None:
        """Write what was found; stop with exit code 1 when there are problems. A warning stops nothing."""
        if options["cases"] < CASES:
            raise CommandError(
                f"--cases {options['cases']} is too few to judge a question; give at least {CASES}", returncode=2
            )
        folder = options["folder"] or Path(settings.BASE_DIR) / "lessons"
        report = check_lessons(
            folder.resolve(), cases=options["cases"], render=make_lesson, only=options["module"], today=now().date()
        )
        if options["json"]:
            self.stdout.write(json.dumps(report.as_json(), ensure_ascii=False, indent=1))
        else:
            for problem in report.problems:
                self.stdout.write(str(problem))
            for warning in report.warnings:
                self.stdout.write(f"warning: {warning}")
            self.stdout.write(
                f"{len(report.modules)} modules, {report.questions} questions, {report.cases} cases under "
                f"{', '.join(report.specifications) or 'no specification'}: {len(report.problems)} problems"
            )
        if report.problems:
            raise SystemExit(1)
