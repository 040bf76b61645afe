"""Reads of a company's pictures, and of the places that the content has for them."""

import base64
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from trainer.base.models import Sealed
from trainer.library import queries as library
from trainer.library.lesson_source import photo_places
from trainer.library.models import Photo
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.questions.model import Language, Question


@dataclass(frozen=True)
class Place:
    """A place for pictures: its name, and the titles of the modules that have it, by language."""

    name: str
    modules: tuple[Mapping[Language, str], ...]


def places() -> dict[str, Place]:
    """List the places of all lessons and questions in use, by name; both languages of a lesson have the same."""
    versions = library.module_versions()
    modules = library.modules_of(versions)
    questions = library.questions_by_module(versions)
    found: dict[str, dict[str, Mapping[Language, str]]] = {}
    for version in versions:
        named = [question.photo for question in questions[version.slug] if question.photo]
        if f"{version.slug}/lesson.en.md" in library.manifest_of(version):
            named += photo_places(library.lesson_text(version, "en"))
        for name in named:
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


def photos_for(company: Company, question: Question) -> list[dict[str, Any]]:
    """Give what is to be kept of the picture that a question shows with its stem: texts and whole numbers only.

    A picture of acceptable or other work would answer the question, so only one without such a mark is shown.
    """
    if not question.photo:
        return []
    held = photos_at(company, {question.photo}).get(question.photo, [])
    return [kept(photo) for photo in held if photo.anchor == Photo.Anchor.PLAIN]


def kept(photo: Photo) -> dict[str, Any]:
    """Give what a picture's figure is made of, as texts and whole numbers."""
    return {
        "company": photo.company.slug,
        "ref": str(photo.ref),
        "picture": photo.picture,
        "anchor": photo.anchor,
        "alt": {"en": photo.alt_en, "es": photo.alt_es},
        "width": photo.width,
        "height": photo.height,
    }


def photos_of(member: Member) -> list[Photo]:
    """List the pictures that the member's company shows, by place, the newest of each first."""
    return list(
        Photo.objects.visible_to(member).select_related("company").filter(end__isnull=True).order_by("place", "-pk")
    )


def body_of(photo: Photo) -> bytes | None:
    """Give a picture's JPEG bytes; None when it was erased."""
    sealed = Sealed.objects.filter(digest=photo.picture).first()
    return None if sealed is None else base64.b64decode(sealed.text)
