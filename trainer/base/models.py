"""What is kept for every app: sealed texts, erasure orders, evidence and the journal."""

import zlib
from typing import Any, ClassVar
from uuid import UUID

from django.db import models, transaction

from trainer.base import clock, ids
from trainer.base.append_only import AppendOnly, AppendOnlyQuerySet
from trainer.base.canonical import canonical_text, sha256_hex


class ErasureOrder(AppendOnly):
    """An order to erase what names one person; it alone lets that person's sealed rows be deleted."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    subject = models.UUIDField(db_index=True)
    ordered_at = models.DateTimeField(default=clock.now)
    ordered_by = models.UUIDField()
    reason_code = models.CharField(max_length=40)


class SealedQuerySet(AppendOnlyQuerySet):
    """Sealed rows can be erased under an order; the trigger refuses without one."""

    def erase(self) -> int:
        """Delete these rows; the database refuses unless each subject has an erasure order."""
        return models.QuerySet.delete(self)[0]


class Sealed(AppendOnly):
    """A text that names or quotes a person, apart from the record that it belongs to.

    The record keeps `digest`, the SHA-256 of salt and text, so erasing the text leaves the record whole and the salt
    keeps a short text from being guessed.
    """

    erasable: ClassVar[bool] = True
    subject = models.UUIDField(db_index=True)  # ref of the person's account
    salt = models.CharField(max_length=32, default=ids.new_salt)
    text = models.TextField()
    digest = models.CharField(max_length=64, unique=True)
    sealed_at = models.DateTimeField(default=clock.now)

    objects: ClassVar = SealedQuerySet.as_manager()

    @classmethod
    def seal(cls, *, subject: UUID, text: str) -> "Sealed":
        """Keep a text about a person and give its row."""
        salt = ids.new_salt()
        return cls.objects.create(subject=subject, salt=salt, text=text, digest=sha256_hex(salt + text))

    def is_whole(self) -> bool:
        """Tell whether the text still has the digest that was bound to it."""
        return sha256_hex(self.salt + self.text) == self.digest


class Evidence(AppendOnly):
    """A document that a verdict or record rests on, as canonical JSON text, compressed; known by its SHA-256."""

    digest = models.CharField(max_length=64, unique=True)
    body = models.BinaryField()
    stored_at = models.DateTimeField(default=clock.now)

    @classmethod
    def store(cls, document: Any) -> "Evidence":
        """Keep a document of strings, integers, booleans, lists and objects; the same document is kept once."""
        text = canonical_text(document)
        digest = sha256_hex(text)
        found = cls.objects.filter(digest=digest).first()
        if found is not None:
            return found
        with transaction.atomic():
            row, _made = cls.objects.get_or_create(
                digest=digest, defaults={"body": zlib.compress(text.encode(), level=6)}
            )
        return row

    @property
    def text(self) -> str:
        """The document's canonical text, checked against its digest.

        Raises:
            ValueError: What is stored no longer has its digest.
        """
        text = zlib.decompress(bytes(self.body)).decode()
        if sha256_hex(text) != self.digest:
            raise ValueError(f"evidence {self.digest} does not have its digest any more: the stored bytes were changed")
        return text


class JournalEntry(AppendOnly):
    """Who did what in the program, when. Refs and codes only: no names, no free text."""

    at = models.DateTimeField(default=clock.now, db_index=True)
    company = models.UUIDField(null=True, db_index=True)
    actor = models.UUIDField(null=True)
    verb = models.CharField(max_length=60)
    subject = models.CharField(max_length=120)
    details = models.TextField(default="{}")

    class Meta:
        verbose_name_plural = "journal entries"
