"""Reads of a company's pictures, and of the places that the content has for them."""

import base64
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from trainer.base.models import Sealed
from trainer.library import queries as library
from trainer.library.lesson_source import photo_places
from trainer.library.models import Photo
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.questions.model import Language


@dataclass(frozen=True)
class Place:
    """A place for pictures: its name, and the titles of the modules that have it, by language."""

    name: str
    modules: tuple[Mapping[Language, str], ...]


def places() -> dict[str, Place]:
    """List the places of all lessons in use, by name; both languages of a lesson have the same."""
    versions = library.module_versions()
    modules = library.modules_of(versions)
    found: dict[str, dict[str, Mapping[Language, str]]] = {}
    for version in versions:
        if f"{version.slug}/lesson.en.md" not in library.manifest_of(version):
            continue
        for name in photo_places(library.lesson_text(version, "en")):
            found.setdefault(name, {})[version.slug] = modules[version.slug].title
    return {name: Place(name, tuple(titles.values())) for name, titles in sorted(found.items())}


def photos_at(company: Company, named: Collection[str]) -> dict[str, list[Photo]]:
    """Give the company's pictures at some places, the newest of each kind; places without one are left out."""
    if not named:
        return {}
    rows = Photo.objects.filter(company=company, place__in=named, end__isnull=True)
    newest: dict[tuple[str, str], Photo] = {}
    for row in rows.select_related("company").order_by("-pk"):
        newest.setdefault((row.place, row.anchor), row)
    found: dict[str, list[Photo]] = {}
    for row in sorted(newest.values(), key=lambda row: (row.place, Photo.Anchor.values.index(row.anchor))):
        found.setdefault(row.place, []).append(row)
    return found


def photos_of(member: Member) -> list[Photo]:
    """List the pictures that the member's company shows, newest first."""
    return list(Photo.objects.visible_to(member).filter(end__isnull=True).order_by("place", "-pk"))


def body_of(photo: Photo) -> bytes | None:
    """Give a picture's JPEG bytes; None when it was erased."""
    sealed = Sealed.objects.filter(digest=photo.picture).first()
    return None if sealed is None else base64.b64decode(sealed.text)
