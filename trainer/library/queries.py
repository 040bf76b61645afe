"""Reads of the library. Texts and what they parse to never change, so they are kept in memory by digest."""

import json
from collections import OrderedDict
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from functools import lru_cache
from threading import Lock
from typing import Final, NamedTuple, cast

from django.db.models import Max

from trainer.base.dated import in_force
from trainer.library.models import Adoption, ContentKind, ContentVersion, ModuleVersion, SpecificationRevision
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.questions.format import parse_question
from trainer.questions.model import Question
from trainer.questions.modules import Module, covers, parse_module
from trainer.rules.specification import Specification, parse_specification

IN_USE: Final = "in use"
_KEPT: Final = 20_000  # texts of a few kilobytes: tens of megabytes at most
_texts: OrderedDict[tuple[str, str], str] = OrderedDict()
_lock = Lock()


class Adopted(NamedTuple):
    """A revision in force: its row, and the values that it holds."""

    revision: SpecificationRevision
    specification: Specification


# ------------------------------------------------------------------------------------------------------------ texts
def texts_of(wanted: Mapping[str, str]) -> dict[str, str]:
    """Give the text of each path at its SHA-256, in one query at most.

    Raises:
        LookupError: A version was never loaded; names path and digest.
    """
    found: dict[str, str] = {}
    with _lock:
        for key in wanted.items():
            if key in _texts:
                _texts.move_to_end(key)
                found[key[0]] = _texts[key]
    missing = {path: digest for path, digest in wanted.items() if path not in found}
    if missing:
        rows = ContentVersion.objects.filter(path__in=missing, sha256__in=missing.values(), company=None)
        loaded = rows.values_list("path", "sha256", "text")
        found |= {path: text for path, digest, text in loaded if missing[path] == digest}
        with _lock:
            _texts.update({(path, wanted[path]): found[path] for path in missing if path in found})
            while len(_texts) > _KEPT:
                _texts.popitem(last=False)
    absent = sorted(set(wanted) - set(found))
    if absent:
        raise LookupError(f"content {absent[0]} at {wanted[absent[0]]} was never loaded; run manage.py load_lessons")
    return found


@lru_cache(maxsize=4096)
def _question(text: str, path: str) -> Question:
    return parse_question(text, path)


@lru_cache(maxsize=512)
def _module(text: str, path: str) -> Module:
    return parse_module(text, path)


@lru_cache(maxsize=128)
def _specification(text: str, path: str) -> Specification:
    return parse_specification(text, path)


# ---------------------------------------------------------------------------------------------------------- modules
def module_versions() -> list[ModuleVersion]:
    """List the version in use of every module, by slug."""
    latest = ModuleVersion.objects.values("slug").annotate(latest=Max("pk")).values("latest")
    return list(ModuleVersion.objects.filter(pk__in=latest).order_by("slug"))


def current_module(slug: str) -> ModuleVersion | None:
    """Give the version in use of one module; None when there is no such module."""
    return ModuleVersion.objects.filter(slug=slug).order_by("-pk").first()


def manifest_of(version: ModuleVersion) -> dict[str, str]:
    """Give the digest of each of the version's files by path."""
    return cast("dict[str, str]", json.loads(version.manifest))


def modules_of(versions: Iterable[ModuleVersion]) -> dict[str, Module]:
    """Give what module.toml says in each version, by slug, in one query at most; versions of different modules.

    They come in the order that somebody new reads them.
    """
    wanted = {path: manifest_of(version)[path] for version in versions for path in [f"{version.slug}/module.toml"]}
    found = {path.split("/")[0]: _module(text, path) for path, text in texts_of(wanted).items()}
    return dict(sorted(found.items(), key=lambda item: (item[1].order, item[0])))


def module_of(version: ModuleVersion) -> Module:
    """Give what module.toml says in the version."""
    return modules_of([version])[version.slug]


def lesson_text(version: ModuleVersion, language: str) -> str:
    """Give the lesson's Markdown in `en` or `es`, as it stood in the version."""
    path = f"{version.slug}/lesson.{language}.md"
    return texts_of({path: manifest_of(version)[path]})[path]


def lesson_digest(version: ModuleVersion, language: str) -> str:
    """Give the SHA-256 of the lesson's text in one language."""
    return manifest_of(version)[f"{version.slug}/lesson.{language}.md"]


def glossary_text() -> tuple[str, str]:
    """Give the digest and the text of the glossary loaded last; two empty texts before there is one."""
    rows = ContentVersion.objects.filter(kind=ContentKind.GLOSSARY, company=None).order_by("-pk")
    found = rows.values_list("path", "sha256").first()
    return (found[1], texts_of(dict([found]))[found[0]]) if found else ("", "")


# -------------------------------------------------------------------------------------------------------- questions
def all_questions_of(version: ModuleVersion) -> list[Question]:
    """List the version's questions of every state, by id; one query at most."""
    return questions_by_module([version])[version.slug]


def questions_by_module(versions: Iterable[ModuleVersion]) -> dict[str, list[Question]]:
    """Give all questions of versions of different modules, by slug; one query at most."""
    versions = list(versions)
    manifests = [manifest_of(version) for version in versions]
    found = texts_of({path: digest for one in manifests for path, digest in one.items() if "/questions/" in path})
    by_slug: dict[str, list[Question]] = {version.slug: [] for version in versions}
    for path in sorted(found):
        by_slug[path.split("/")[0]].append(_question(found[path], path))
    return by_slug


def questions_of(version: ModuleVersion) -> list[Question]:
    """List the version's questions that are in use, by id."""
    return [question for question in all_questions_of(version) if question.state == IN_USE]


def question(question_id: str, version: ModuleVersion) -> Question:
    """Give one question, `MODULE/QUESTION`, as it stood in the version, whatever its state.

    Raises:
        LookupError: The version has no such question.
    """
    slug, _slash, stem = question_id.partition("/")
    path = f"{slug}/questions/{stem}.toml"
    digest = manifest_of(version).get(path)
    if digest is None:
        raise LookupError(f'module "{version.slug}" ({version.short}) has no question "{question_id}"')
    return _question(texts_of({path: digest})[path], path)


# --------------------------------------------------------------------------------------------------- specifications
def revisions() -> list[SpecificationRevision]:
    """List every revision that was loaded, by name, newest revision first."""
    return list(
        SpecificationRevision.objects.select_related("content").defer("content__text").order_by("name", "-revision")
    )


def revision(name: str, label: str) -> SpecificationRevision | None:
    """Give one revision by name and label; None when it was never loaded."""
    rows = SpecificationRevision.objects.select_related("content").defer("content__text")
    return rows.filter(name=name, revision=label).first()


def specification_of(row: SpecificationRevision) -> Specification:
    """Give the values of a revision; rows read with `select_related("content")` cost one query at most."""
    content = row.content
    return _specification(texts_of({content.path: content.sha256})[content.path], content.path)


def specifications_of(rows: Iterable[SpecificationRevision]) -> dict[int, Specification]:
    """Give the values of several revisions by the row's key; one query at most."""
    rows = list(rows)
    found = texts_of({row.content.path: row.content.sha256 for row in rows})
    return {row.pk: _specification(found[row.content.path], row.content.path) for row in rows}


def adoption_in_force(company: Company, name: str, *, on: date, known_at: datetime | None = None) -> Adoption | None:
    """Give the adoption that holds for the company on a day, as known at an instant (now, by default)."""
    rows = in_force(Adoption.objects.filter(company=company, name=name), key=Adoption.KEY, on=on, known_at=known_at)
    return rows.select_related("revision__content").defer("revision__content__text").first()


def specification_in_force(
    company: Company, name: str, *, on: date, known_at: datetime | None = None
) -> Adopted | None:
    """Give the revision that the company installs to on a day; None when it has adopted none by then.

    Pages without one show `library/not_adopted.html`: what is missing and who can mend it.
    """
    adoption = adoption_in_force(company, name, on=on, known_at=known_at)
    return None if adoption is None else Adopted(adoption.revision, specification_of(adoption.revision))


def adopted_for(company: Company, module: Module, *, on: date) -> Adopted | None:
    """Give the revision in force that fills a module; None when there is none, or only one older than its values."""
    adopted = specification_in_force(company, module.specification, on=on)
    return adopted if adopted is not None and covers(module, adopted.revision.revision) else None


def adoptions_of(member: Member) -> list[Adoption]:
    """List everything that the member's company ever adopted, latest day first."""
    rows = Adoption.objects.visible_to(member).select_related("revision")
    return list(rows.order_by("name", "-effective_from", "-recorded_at"))


def in_force_by_name(company: Company, *, on: date) -> dict[str, Adoption]:
    """Give, for each specification that the company adopted, the adoption that holds on a day."""
    rows = in_force(Adoption.objects.filter(company=company), key=Adoption.KEY, on=on)
    return {row.name: row for row in rows.select_related("revision__content").defer("revision__content__text")}
