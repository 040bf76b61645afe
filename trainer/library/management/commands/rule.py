"""`manage.py rule NAME input=value …`: work one rule and show its steps; needs no database."""

import json
import re
from argparse import ArgumentParser
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from trainer.rules import RuleInputError, UnknownRuleError, get_rule, resolve_inputs
from trainer.rules.languages import LANGUAGES
from trainer.rules.specification import (
    ContentError,
    Specification,
    UnknownValueError,
    parse_specification,
)
from trainer.rules.words import steps_text

_NAME = re.compile(r"[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)*")


class Command(BaseCommand):
    """Work one rule."""

    help = 'Work one rule, for example: rule course_count run="24 ft 6 in" --specification two-ply-self-adhered/2026'
    requires_system_checks = ()
    requires_migrations_checks = False

    def create_parser(self, prog_name: str, subcommand: str, **kwargs: Any) -> CommandParser:
        """Let options stand anywhere among the inputs."""
        parser = super().create_parser(prog_name, subcommand, **kwargs)
        parser.parse_args = parser.parse_intermixed_args  # type: ignore[method-assign]
        return parser

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Declare the options."""
        parser.add_argument("name", help="the rule; list them with `rules`")
        parser.add_argument("inputs", nargs="*", metavar="input=value", help='such as run="24 ft 6 in"')
        parser.add_argument("--specification", metavar="NAME/REVISION", help="fills the inputs that are not given")
        parser.add_argument("--part", help="part of the specification, such as base or cap; by default the rule's own")
        parser.add_argument("--language", choices=LANGUAGES, default="en", help="language of labels and texts")
        parser.add_argument("--units", choices=("imperial", "metric"), help="units of the texts")
        parser.add_argument("--json", action="store_true", help="write what a program can read")

    def handle(self, **options: Any) -> None:
        """Write the value and its steps; stop with exit code 2 and the reason when an input is bad."""
        try:
            written, worked = _answer(options)
        except (RuleInputError, UnknownRuleError, UnknownValueError, ContentError, ValueError) as error:
            raise CommandError(str(error), returncode=2) from None
        if options["json"]:
            self.stdout.write(json.dumps(written, ensure_ascii=False, indent=1))
            return
        for step in written["steps"]:
            self.stdout.write(f"{step['label']}: {step['expression']} = {step['text']}")
        self.stdout.write(f"{written['text']}  ({worked})")


def _answer(options: dict[str, Any]) -> tuple[dict[str, Any], str]:
    rule = get_rule(options["name"])
    specification = read_specification(options["specification"]) if options["specification"] else None
    given = _given(options["inputs"], specification, options["part"] or rule.part)
    working = rule.work(**resolve_inputs(rule, given, specification, options["part"]))
    units = options["units"] or (specification.units if specification else "imperial")
    language = options["language"]
    written = {
        "rule": rule.name,
        "edition": rule.edition,
        "value": rule.result.number(working.value),
        "unit": rule.result.unit,
        "text": rule.result.text(working.value, units, language),
        "steps": steps_text(working, language, units),
    }
    return written, str(rule.source)


def _given(inputs: Sequence[str], specification: Specification | None, part: str | None) -> dict[str, object]:
    """Read `input=value`; a value may be a name of the specification."""
    given: dict[str, object] = {}
    for written in inputs:
        name, equals, value = written.partition("=")
        name = name.strip()
        if not equals or not name:
            raise ValueError(f'{written!r} is not an input. Write input=value, such as run="24 ft 6 in".')
        if name in given:
            raise ValueError(f"{name} is given twice. Leave one of them out.")
        given[name] = value
        if specification is not None and _NAME.fullmatch(value.strip()):
            found = specification.give(value.strip(), part)
            given[name] = value if found is None else found
    return given


def read_specification(label: str) -> Specification:
    """Read NAME/REVISION from the lessons folder.

    Raises:
        ValueError: There is no such file; the message lists those there are.
        ContentError: The file is broken.
    """
    folder = Path(settings.BASE_DIR) / "lessons" / "specifications"
    files = {
        f"{path.parent.name}/{path.stem}": path
        for path in sorted(folder.glob("*/*.toml"), key=lambda path: (path.parent, path.stem))
    }
    if label not in files:
        raise ValueError(f"no specification is called {label!r}. There are {', '.join(files) or 'none yet'}.")
    path = files[label]
    return parse_specification(path.read_text(encoding="utf-8"), path.relative_to(settings.BASE_DIR).as_posix())
