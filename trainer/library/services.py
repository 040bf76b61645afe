"""Changes of the library: load content from the lessons folder, adopt a specification."""

from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from django.db import transaction
from django.utils.translation import gettext as _

from trainer.base import journal
from trainer.base.errors import Refused
from trainer.library import content, content_check, queries
from trainer.library.content import SourceFile
from trainer.library.models import Adoption, ContentKind, ContentVersion, ModuleVersion, SpecificationRevision
from trainer.library.signals import module_loaded, specification_adopted
from trainer.people.models import Account, Company
from trainer.questions.modules import parse_module
from trainer.rules.specification import ContentError, Problem


@dataclass
class Loaded:
    """What a load did: paths that came in, revisions and module versions made, modules whose folder is gone."""

    files: int = 0
    new_files: list[str] = field(default_factory=list)
    revisions: list[str] = field(default_factory=list)
    modules: list[ModuleVersion] = field(default_factory=list)
    unchanged_modules: list[str] = field(default_factory=list)
    missing_modules: list[str] = field(default_factory=list)


def load_lessons(*, folder: Path, by: Account | None = None) -> Loaded:
    """Turn each changed file into an immutable content version, and each changed module into a new version.

    All or nothing. A file that did not change makes nothing; what was loaded before stays, also when its file is gone.

    Args:
        folder: The lessons folder.
        by: Who loads; None for the program itself.

    Raises:
        ContentError: Content that is broken, or a specification revision that was loaded before with other text.
    """
    files = content.read_folder(folder)
    problems = content_check.problems_of(folder)
    if problems:
        raise ContentError(problems)
    loaded = Loaded(files=len(files))
    with transaction.atomic():
        versions = _keep_files(files, loaded)
        _keep_revisions(folder, files, versions, loaded)
        _keep_modules(files, loaded)
        if loaded.new_files or loaded.modules:
            journal.write(
                "lessons-loaded",
                "lessons",
                by=by,
                files=loaded.new_files,
                revisions=loaded.revisions,
                modules=[f"{version.slug}@{version.short}" for version in loaded.modules],
            )
    return loaded


def _keep_files(files: list[SourceFile], loaded: Loaded) -> dict[str, ContentVersion]:
    """Insert the versions that are new; give the version of every file by path."""
    wanted = {file.path: file.sha256 for file in files}
    known = {
        row.path: row
        for row in ContentVersion.objects.filter(path__in=wanted, company=None).defer("text")
        if wanted[row.path] == row.sha256
    }
    for file in files:
        if file.path not in known:
            known[file.path] = ContentVersion.objects.create(
                kind=file.kind, path=file.path, sha256=file.sha256, text=file.text
            )
            loaded.new_files.append(file.path)
    return known


def _keep_revisions(folder: Path, files: list[SourceFile], versions: dict[str, ContentVersion], loaded: Loaded) -> None:
    known = {row.key: row.content.sha256 for row in SpecificationRevision.objects.select_related("content")}
    changed: list[Problem] = []
    for file in files:
        if file.kind != ContentKind.SPECIFICATION:
            continue
        key = file.path.removeprefix("specifications/").removesuffix(".toml")
        if key not in known:
            name, revision = key.split("/")
            SpecificationRevision.objects.create(name=name, revision=revision, content=versions[file.path])
            loaded.revisions.append(key)
        elif known[key] != file.sha256:
            changed.append(Problem(f"{folder.name}/{file.path}", 1, "content.E310", _changed(key)))
    if changed:
        raise ContentError(changed)


def _changed(key: str) -> str:
    name = key.partition("/")[0]
    return (
        f'revision "{key}" was loaded before with other text and never changes; put the old text back and write the new'
        f" values as a new revision, specifications/{name}/NEW-REVISION.toml"
    )


def _keep_modules(files: list[SourceFile], loaded: Loaded) -> None:
    current = {version.slug: version for version in queries.module_versions()}
    inside = content.modules_in(files)
    for slug, module_files in inside.items():
        manifest, digest = content.manifest_of(module_files)
        if slug in current and current[slug].digest == digest:
            loaded.unchanged_modules.append(slug)
            continue
        version = ModuleVersion.objects.create(slug=slug, digest=digest, manifest=manifest)
        loaded.modules.append(version)
        source = next(file for file in module_files if file.kind == ContentKind.MODULE)
        module_loaded.send(ModuleVersion, version=version, module=parse_module(source.text, source.path))
    loaded.missing_modules += sorted(set(current) - set(inside))


def adopt_specification(
    *, company: Company, revision: SpecificationRevision, on: date, by: Account | None = None
) -> Adoption:
    """Say that the company installs to the revision from a day on.

    Raises:
        Refused: The revision is in force on that day already.
    """
    with transaction.atomic():
        before = queries.adoption_in_force(company, revision.name, on=on)
        if before is not None and before.revision_id == revision.pk:
            raise Refused(
                _("Revision %(revision)s is in force on that day already. Pick another revision or an earlier day.")
                % {"revision": revision.revision},
                field="effective_from",
            )
        adoption = Adoption.objects.create(
            company=company,
            name=revision.name,
            revision=revision,
            effective_from=on,
            recorded_by=None if by is None else by.ref,
        )
        journal.write(
            "specification-adopted",
            adoption,
            by=by,
            company=company,
            revision=revision.key,
            effective_from=on.isoformat(),
        )
        specification_adopted.send(Adoption, adoption=adoption, before=None if before is None else before.revision)
    return adoption
