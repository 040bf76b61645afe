"""Check every company's register against its records."""

import json
import sys
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from trainer.records.verification import verify


class Command(BaseCommand):
    help = "Check every company's register against its records; exit 1 when something does not agree."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--json", action="store_true", help="print the report as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        report = verify()
        if options["json"]:
            self.stdout.write(json.dumps(report.as_json(), indent=1, ensure_ascii=False))
        else:
            for company in report.companies:
                self.stdout.write(f"{company.company}: {company.entries} entries, root {company.root}")
            for problem in report.problems:
                self.stdout.write(f"{problem.company}: {problem.where} {problem.message} ({problem.id})")
            self.stdout.write(f"{len(report.problems)} problems")
        if report.problems:
            sys.exit(1)
