"""Tell a browser test what only the server knows: the right response to an open practice case or exam sheet."""

import json
import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent))
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "trainer.settings")

import django

django.setup()

from trainer.exams.cases import stored_case
from trainer.exams.models import Sheet
from trainer.questions.sample_responses import right_response, wrong_response
from trainer.training.models import PracticeCase
from trainer.training.queries import case_of


def main() -> None:
    """Answer `practice REF` or `sheet SITTING NUMBER` with {kind, right, wrong, texts}."""
    import random

    if sys.argv[1] == "practice":
        case = case_of(PracticeCase.objects.get(ref=sys.argv[2]))
    else:
        sheet = Sheet.objects.get(sitting__ref=sys.argv[2], number=int(sys.argv[3]))
        case = stored_case(sheet.evidence)
    secret = [text[language] for one in case.mistakes for text in [one.text] for language in ("en", "es")]
    told = {
        "kind": case.kind,
        "right": right_response(case),
        "wrong": wrong_response(case, random.Random(1)),
        "secret": [*secret, case.seed],
    }
    sys.stdout.write(json.dumps(told))


main()
