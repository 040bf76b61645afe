"""Changes of a company's pictures: add one at a place of the content, take one away."""

import base64
from typing import IO

from django.db import transaction
from django.utils.translation import gettext as _

from trainer.base import journal
from trainer.base.errors import Refused
from trainer.base.models import Sealed
from trainer.library.models import Photo, PhotoEnd
from trainer.library.photographs import queries
from trainer.library.photographs.pictures import remake
from trainer.people.models import Account, Company


def add_photo(
    *, company: Company, place: str, anchor: str, alt: dict[str, str], file: IO[bytes], size: int, by: Account
) -> Photo:
    """Keep a picture for a place of the content; it takes over from the one of the same kind that was there.

    Args:
        company: Whose picture it is; nobody else sees it.
        place: The name in a lesson's `::: photo NAME`, or a question's `photo`.
        anchor: What it shows: `plain`, `acceptable` or `not-acceptable` work.
        alt: What is to be seen, by language; both are needed.
        file: What was sent.
        size: Its length in bytes.
        by: Who answers for it, and for whoever is to be seen on it.

    Raises:
        Refused: The content has no such place, a language is missing, or the file is no picture that can be kept.
    """
    if place not in queries.places():
        raise Refused(_("No lesson or question has this place. Choose one of the list."), field="place")
    for language in ("en", "es"):
        if not alt.get(language, "").strip():
            raise Refused(_("Say what is to be seen, in both languages."), field=f"alt_{language}")
    picture = remake(file, size)
    with transaction.atomic():
        sealed = Sealed.seal(subject=by.ref, text=base64.b64encode(picture.body).decode())
        photo = Photo.objects.create(
            company=company,
            place=place,
            anchor=anchor,
            alt_en=alt["en"].strip(),
            alt_es=alt["es"].strip(),
            picture=sealed.digest,
            width=picture.width,
            height=picture.height,
            added_by=by.ref,
        )
        journal.write("photo-added", photo, by=by, company=company, place=place, anchor=anchor)
    return photo


def end_photo(*, photo: Photo, by: Account) -> PhotoEnd:
    """Take a picture away from its place; once is enough."""
    with transaction.atomic():
        end, made = PhotoEnd.objects.get_or_create(photo=photo, defaults={"ended_by": by.ref})
        if made:
            journal.write("photo-ended", photo, by=by, company=photo.company, place=photo.place)
    return end
