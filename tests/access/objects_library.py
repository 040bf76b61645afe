"""Objects of the library that addresses name: a small module, loaded, and a revision that the own company adopted."""

import tempfile
from datetime import date
from pathlib import Path
from typing import Any

from tests.access.world import World
from tests.library.folder import NEW, OLD, SLUG, SPECIFICATION, write_folder
from tests.library.photo import add_photo
from trainer.library import queries, services


def make(world: World) -> dict[str, Any]:
    """Load the small module and adopt the older revision; the newer one is there to be adopted."""
    with tempfile.TemporaryDirectory() as place:
        services.load_lessons(folder=write_folder(Path(place) / "lessons"))
    adopted, newer = queries.revision(SPECIFICATION, OLD), queries.revision(SPECIFICATION, NEW)
    if adopted is None or newer is None:
        raise ValueError(f"the lessons folder holds no revisions {OLD} and {NEW} of {SPECIFICATION}")
    services.adopt_specification(company=world.company, revision=adopted, on=date(2024, 1, 1))
    photo = add_photo(world.company, world.members["trainer"].account)
    return {
        "photo": photo,
        "module_slug": SLUG,
        "module_version": queries.current_module(SLUG),
        "question_stem": "exposure",
        "rule_name": "course_count",
        "specification_name": SPECIFICATION,
        "specification_label": NEW,
        "specification_revision": adopted,
    }
