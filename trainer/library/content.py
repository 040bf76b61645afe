"""The lessons folder as it lies on the disk: every file read and told apart by its name."""

import hashlib
import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from trainer.base.canonical import canonical_text, sha256_hex
from trainer.library.models import ContentKind
from trainer.rules.specification import ContentError, Problem

KINDS: Final[tuple[tuple[re.Pattern[str], ContentKind], ...]] = (
    (re.compile(r"glossary\.toml"), ContentKind.GLOSSARY),
    (re.compile(r"specifications/[a-z0-9-]+/[^/]+\.toml"), ContentKind.SPECIFICATION),
    (re.compile(r"[a-z0-9-]+/module\.toml"), ContentKind.MODULE),
    (re.compile(r"[a-z0-9-]+/lesson\.(en|es)\.md"), ContentKind.LESSON),
    (re.compile(r"[a-z0-9-]+/questions/[a-z0-9-]+\.toml"), ContentKind.QUESTION),
)
IN_MODULE: Final = frozenset({ContentKind.MODULE, ContentKind.LESSON, ContentKind.QUESTION})


@dataclass(frozen=True)
class SourceFile:
    """One file of the folder; `path` is below the folder, with forward slashes; `sha256` is that of its text."""

    kind: ContentKind
    path: str
    text: str
    sha256: str

    @property
    def slug(self) -> str:
        """The module that the file belongs to, by its folder."""
        return self.path.split("/", 1)[0]


def read_folder(folder: Path) -> list[SourceFile]:
    """Read every content file below the folder, by path.

    Raises:
        ContentError: The folder is missing or empty, a file has a name that nothing reads, or is not UTF-8 text.
    """
    problems: list[Problem] = []
    files: list[SourceFile] = []
    for path in sorted(folder.rglob("*")) if folder.is_dir() else []:
        inside = path.relative_to(folder).as_posix()
        if path.suffix not in (".toml", ".md") or inside == "README.md" or any(p[0] == "." for p in inside.split("/")):
            continue
        kind = next((kind for pattern, kind in KINDS if pattern.fullmatch(inside)), None)
        if kind is None:
            problems.append(Problem(f"{folder.name}/{inside}", 1, "content.E301", _NAMES))
            continue
        try:
            text = path.read_bytes().decode("utf-8")
        except UnicodeDecodeError as error:
            problems.append(
                Problem(
                    f"{folder.name}/{inside}",
                    1,
                    "content.E302",
                    f"byte {error.start} is not UTF-8 text; save the file as UTF-8",
                )
            )
            continue
        files.append(SourceFile(kind, inside, text, hashlib.sha256(text.encode()).hexdigest()))
    if not files and not problems:
        problems.append(
            Problem(
                str(folder),
                1,
                "content.E303",
                "the folder holds no lessons; name the folder that holds MODULE/module.toml",
            )
        )
    if problems:
        raise ContentError(problems)
    return files


_NAMES: Final = (
    "no part of the lessons has this name; content files are glossary.toml, specifications/NAME/REVISION.toml,"
    " MODULE/module.toml, MODULE/lesson.en.md, MODULE/lesson.es.md and MODULE/questions/QUESTION.toml, names in small"
    " letters, digits and hyphens"
)


def modules_in(files: Iterable[SourceFile]) -> dict[str, list[SourceFile]]:
    """Give the files of each module by its slug, in order."""
    found: dict[str, list[SourceFile]] = defaultdict(list)
    for file in files:
        if file.kind in IN_MODULE:
            found[file.slug].append(file)
    return dict(sorted(found.items()))


def manifest_of(files: Iterable[SourceFile]) -> tuple[str, str]:
    """Give a module's manifest (canonical JSON, path to digest) and the manifest's SHA-256."""
    manifest = canonical_text({file.path: file.sha256 for file in files})
    return manifest, sha256_hex(manifest)
