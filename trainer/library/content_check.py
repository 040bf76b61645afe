"""What a load refuses: what `manage.py check_lessons` finds, with only a few cases of each question.

The statistics of a question (too few different cases, mistakes that hardly ever occur) need hundreds of cases and are
left to that command; everything that would break a page or a sitting is found here.
"""

from pathlib import Path
from typing import Final

from trainer.library.rendering import make_lesson
from trainer.questions.check import check_lessons
from trainer.rules.specification import Problem

FEW: Final = 4


def problems_of(folder: Path) -> list[Problem]:
    """Give what is wrong in the folder, by file and line; files are named from the folder's own name on."""
    return check_lessons(folder.resolve(), cases=FEW, render=make_lesson).problems
