"""`manage.py case MODULE/QUESTION --seed N`: make one case of a question in the lessons folder; needs no database."""

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from trainer.library.management.commands.rule import read_specification
from trainer.questions.case import Case
from trainer.questions.cases import CaseError, make_case
from trainer.questions.format import parse_question
from trainer.questions.model import LANGUAGES, Language, Question
from trainer.questions.modules import parse_module
from trainer.rules.specification import ContentError


class Command(BaseCommand):
    """Make one case and show it with its answer."""

    help = "Make one case, for example: case base-sheet-layout/course-count --seed 7 --language es"
    requires_system_checks = ()
    requires_migrations_checks = False

    def add_arguments(self, parser: ArgumentParser) -> None:
        """Declare the options."""
        parser.add_argument("question", metavar="MODULE/QUESTION", help="the folder and file of the question")
        parser.add_argument("--seed", required=True, help="the same seed gives the same case")
        parser.add_argument("--specification", metavar="NAME/REVISION", help="by default the newest of the module's")
        parser.add_argument("--language", choices=LANGUAGES, default="en", help="language of the texts")
        parser.add_argument("--json", action="store_true", help="write what a program can read")

    def handle(self, **options: Any) -> None:
        """Write the case; stop with exit code 2 and the reason when there is none."""
        try:
            question = _question(options["question"])
            label = options["specification"] or _newest(options["question"])
            case = make_case(question, read_specification(label), options["seed"])
            shown = case_as_json(case, options["language"])
        except (ContentError, CaseError, ValueError) as error:
            raise CommandError(str(error), returncode=2) from None
        if options["json"]:
            self.stdout.write(json.dumps(shown, ensure_ascii=False, indent=1))
            return
        self.stdout.write(shown["stem"])
        for row in shown["rows"]:
            self.stdout.write(f"  {row['letter']}  {row['text']}" + (f": {row['reading']}" if "reading" in row else ""))
        self.stdout.write(f"-> {shown['answer']['text']}")


def case_as_json(case: Case, language: Language) -> dict[str, Any]:
    """Give a case with its answer in texts, numbers and lists."""
    answer, dimension = case.answer, case.answer.dimension
    drawing = case.drawing[language] if case.drawing is not None else None
    return {
        "question": case.question,
        "kind": case.kind,
        "seed": int(case.seed) if case.seed.lstrip("-").isdigit() else case.seed,
        "specification": case.specification,
        "parameters": dict(case.parameters),
        "stem": case.stem[language],
        "rows": [_row(row, language) for row in case.rows],
        "answer": {
            "value": list(answer.value) if dimension is None else dimension.number(answer.value),
            "unit": answer.unit,
            "text": answer.text[language],
            "within": _within(case),
        },
        "mistakes": [
            {"id": mistake.id, "value": mistake.dimension.number(mistake.value), "text": mistake.text[language]}
            for mistake in case.mistakes
        ],
        "steps": list(case.steps[language]),
        "drawing": {"svg": drawing.svg, "alt": drawing.alt} if drawing is not None else None,
    }


def _within(case: Case) -> int | float | None:
    dimension, within = case.answer.dimension, case.answer.within
    if dimension is None:
        return None
    return 0 if within is None else float(within) if within % 1 else int(within)


def _row(row: Any, language: Language) -> dict[str, Any]:
    shown = {"letter": row.letter, "id": row.id, "right": row.right, "text": row.text[language]}
    extra = {name: getattr(row, name) for name in ("reading", "limit", "tolerance")}
    return shown | {name: said[language] for name, said in extra.items() if said is not None}


def _lessons() -> Path:
    return Path(settings.BASE_DIR) / "lessons"


def _question(label: str) -> Question:
    module, slash, name = label.partition("/")
    path = _lessons() / module / "questions" / f"{name}.toml"
    known = {f"{one.parent.parent.name}/{one.stem}" for one in _lessons().glob("*/questions/*.toml")}
    if not slash or label not in known:
        near = sorted(one for one in known if one.startswith(f"{module}/")) or sorted(known)
        raise ValueError(f"no question is called {label!r}; there are {', '.join(near) or 'none yet'}.")
    return parse_question(path.read_text(encoding="utf-8"), path.relative_to(settings.BASE_DIR).as_posix())


def _newest(label: str) -> str:
    path = _lessons() / label.partition("/")[0] / "module.toml"
    if not path.is_file():
        raise ValueError(f"{path.name} is missing beside the question; name one with --specification NAME/REVISION.")
    module = parse_module(path.read_text(encoding="utf-8"), path.relative_to(settings.BASE_DIR).as_posix())
    revisions = sorted(one.stem for one in (_lessons() / "specifications" / module.specification).glob("*.toml"))
    if not revisions:
        raise ValueError(f"specification {module.specification!r} has no revision; add one.")
    return f"{module.specification}/{revisions[-1]}"
