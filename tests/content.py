"""A part of the project's own content, so that a test does not load all of it."""

import shutil
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LESSONS = ROOT / "lessons"
SPECIFICATION = "two-ply-self-adhered"
REVISIONS = ("2024", "2026")
MODULES = ("base-sheet-layout", "edge-metal")


def copy_revisions(folder: Path) -> None:
    """Copy two revisions of the two-ply specification into a lessons folder."""
    target = folder / "specifications" / SPECIFICATION
    target.mkdir(parents=True)
    for revision in REVISIONS:
        shutil.copy(LESSONS / "specifications" / SPECIFICATION / f"{revision}.toml", target)


def copy_lessons(folder: Path) -> Path:
    """Copy the glossary, two revisions and the two modules of the demo's qualification; give the folder."""
    copy_revisions(folder)
    shutil.copy(LESSONS / "glossary.toml", folder)
    for module in MODULES:
        shutil.copytree(LESSONS / module, folder / module)
    return folder
