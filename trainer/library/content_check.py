"""What a load refuses: what `manage.py check_lessons` finds, with only a few cases of each question.

The statistics of a question (too few different cases, mistakes that hardly ever occur) need hundreds of cases and, like
what reads badly, are left to that command; everything that would break a page or a sitting is found here.
"""

from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Final

from trainer.library.rendering import make_lesson
from trainer.questions.check import check_lessons
from trainer.rules.specification import Problem

FEW: Final = 4


def problems_of(folder: Path) -> list[Problem]:
    """Give what is wrong in the folder, by file and line; files are named from the folder's own name on.

    A folder with the same files as one checked before in this process is not tried again: it takes seconds.
    """
    folder = folder.resolve()
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    digests = tuple((path.relative_to(folder).as_posix(), sha256(path.read_bytes()).hexdigest()) for path in files)
    return list(_problems(folder, digests))


@lru_cache(maxsize=4)
def _problems(folder: Path, _digests: tuple[tuple[str, str], ...]) -> tuple[Problem, ...]:
    return tuple(check_lessons(folder, cases=FEW, render=make_lesson).problems)
