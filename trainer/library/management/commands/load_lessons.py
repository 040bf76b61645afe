"""`manage.py load_lessons`: turn changed files of the lessons folder into immutable versions."""

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from trainer.library.services import Loaded, load_lessons
from trainer.rules.specification import ContentError


class Command(BaseCommand):
    """Load content; nothing is changed when any of it is broken."""

    help = "Load changed lessons, questions and specifications. All or nothing; what was loaded before is kept."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", nargs="?", type=Path, default=settings.LESSONS_DIR, help="the lessons folder")
        parser.add_argument("--json", action="store_true", help="print what was loaded, or what is wrong, as JSON")

    def handle(self, *_args: Any, **options: Any) -> None:
        try:
            loaded = load_lessons(folder=options["folder"])
        except ContentError as error:
            if options["json"]:
                problems = [problem._asdict() for problem in error.problems]
                self.stdout.write(json.dumps({"problems": problems}, ensure_ascii=False))
            else:
                for problem in error.problems:
                    self.stderr.write(str(problem))
            raise CommandError(f"nothing was loaded; problems found: {len(error.problems)}", returncode=1) from None
        self.stdout.write(json.dumps(_document(loaded), ensure_ascii=False) if options["json"] else _lines(loaded))


def _document(loaded: Loaded) -> dict[str, Any]:
    return {
        "files": loaded.files,
        "new_files": loaded.new_files,
        "revisions": loaded.revisions,
        "modules": [{"slug": version.slug, "version": version.digest} for version in loaded.modules],
        "unchanged_modules": loaded.unchanged_modules,
        "missing_modules": loaded.missing_modules,
        "problems": [],
    }


def _lines(loaded: Loaded) -> str:
    lines = [f"{loaded.files} files read, {len(loaded.new_files)} new or changed."]
    lines += [f"  {path}" for path in loaded.new_files]
    lines += [f"Specification revision {key} is new." for key in loaded.revisions]
    lines += [f"Module {version.slug} is now version {version.short}." for version in loaded.modules]
    lines += [f"Module {slug} did not change." for slug in loaded.unchanged_modules]
    lines += [f"Module {slug} has no folder here; its last version stays in use." for slug in loaded.missing_modules]
    return "\n".join(lines)
