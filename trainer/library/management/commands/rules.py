"""`manage.py rules`: list every rule with its inputs, result and source; needs no database."""

import json
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from trainer.rules import REGISTRY, Rule
from trainer.rules.languages import LANGUAGES
from trainer.rules.words import label, rule_title


class Command(BaseCommand):
    """List the rules."""

    help = "List every rule: its inputs with their units, what it gives, and where it comes from."
    requires_system_checks = ()
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Declare the options."""
        parser.add_argument("--json", action="store_true", help="write a list that a program can read")
        parser.add_argument("--topic", help="only the rules of this topic")
        parser.add_argument("--language", choices=LANGUAGES, default="en", help="language of the descriptions")

    def handle(self, **options: Any) -> None:
        """Write the list."""
        rules = [rule for rule in REGISTRY.values() if options["topic"] in (None, rule.topic)]
        if options["json"]:
            entries = [entry(rule, options["language"]) for rule in rules]
            self.stdout.write(json.dumps(entries, ensure_ascii=False, indent=1))
            return
        for rule in rules:
            names = ", ".join(item.name if item.required else f"[{item.name}]" for item in rule.inputs)
            self.stdout.write(f"{rule.name} ({names})  {rule.topic}: {rule_title(rule.name, options['language'])}")


def entry(rule: Rule[..., Any], language: str) -> dict[str, Any]:
    """Describe one rule for a program."""
    return {
        "name": rule.name,
        "topic": rule.topic,
        "edition": rule.edition,
        "inputs": [
            {
                "name": item.name,
                "dimension": item.dimension.name,
                "unit": item.dimension.unit,
                "required": item.required,
                "description": label(item.name, language),
            }
            for item in rule.inputs
        ],
        "result": {"dimension": rule.result.name, "unit": rule.result.unit},
        "source": str(rule.source),
    }
