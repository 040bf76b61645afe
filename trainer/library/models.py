"""Versions of all content, as loaded from files, and the specifications that companies adopted."""

from typing import TYPE_CHECKING, ClassVar

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from trainer.base import clock, ids
from trainer.base.append_only import AppendOnly, AppendOnlyQuerySet
from trainer.base.dated import Dated
from trainer.people.models import Company

if TYPE_CHECKING:
    from trainer.people.access import Member


class ContentKind(models.TextChoices):
    """What a content file is."""

    MODULE = "module", _("module")
    LESSON = "lesson", _("lesson")
    QUESTION = "question", _("question")
    SPECIFICATION = "specification", _("specification")
    GLOSSARY = "glossary", _("glossary")


class ContentVersion(AppendOnly):
    """One version of one content file; what was shown on any day can be read again."""

    kind = models.CharField(max_length=13, choices=ContentKind.choices)
    path = models.CharField(max_length=200)  # below the lessons folder, with forward slashes
    sha256 = models.CharField(max_length=64)
    text = models.TextField()
    company = models.ForeignKey(Company, on_delete=models.PROTECT, null=True, related_name="content")  # None: for all
    loaded_at = models.DateTimeField(default=clock.now)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["path", "sha256"], condition=Q(company__isnull=True), name="content_version_once"
            ),
            models.UniqueConstraint(
                fields=["path", "sha256", "company"],
                condition=Q(company__isnull=False),
                name="content_version_once_a_company",
            ),
        ]
        indexes: ClassVar = [models.Index(fields=["path", "loaded_at"], name="content_by_path")]


class ModuleVersion(AppendOnly):
    """A module as it stood when loaded: the digests of all its files. `digest` is the SHA-256 of the manifest.

    The module in use is the row loaded last: files that go back to an earlier state make a new row with the old digest.
    """

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    slug = models.SlugField(max_length=80)
    digest = models.CharField(max_length=64)
    manifest = models.TextField()  # canonical JSON: path -> sha256 of its content version
    loaded_at = models.DateTimeField(default=clock.now)

    class Meta:
        indexes: ClassVar = [models.Index(fields=["slug"], name="module_by_slug")]

    @property
    def short(self) -> str:
        """The first eight letters of the digest, as printed on records."""
        return self.digest[:8]


class SpecificationRevision(AppendOnly):
    """One immutable revision of a specification."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    name = models.SlugField(max_length=80)
    revision = models.CharField(max_length=20)
    content = models.OneToOneField(ContentVersion, on_delete=models.PROTECT, related_name="specification_revision")

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["name", "revision"], name="specification_revision_once")
        ]

    @property
    def key(self) -> str:
        """`name/revision`, as commands and records write it."""
        return f"{self.name}/{self.revision}"


class AdoptionQuerySet(AppendOnlyQuerySet):
    """Which adoptions a member may see."""

    def visible_to(self, member: "Member") -> "AdoptionQuerySet":
        """Keep those of the member's own company."""
        return self.filter(company=member.company)


class Adoption(Dated):
    """From this day on the company installs to this revision of the specification."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="adoptions")
    name = models.SlugField(max_length=80)
    revision = models.ForeignKey(SpecificationRevision, on_delete=models.PROTECT, related_name="adoptions")

    KEY: ClassVar[tuple[str, ...]] = ("company", "name")

    objects: ClassVar = AdoptionQuerySet.as_manager()

    class Meta:
        indexes: ClassVar = [models.Index(fields=["company", "name", "effective_from"], name="adoption_by_day")]


class PhotoQuerySet(AppendOnlyQuerySet):
    """Which pictures a member may see."""

    def visible_to(self, member: "Member") -> "PhotoQuerySet":
        """Keep those of the member's own company."""
        return self.filter(company=member.company)


class Photo(AppendOnly):
    """A company's own picture at a place of the content. `picture` is the digest of the sealed row that holds it."""

    class Anchor(models.TextChoices):
        """What the work on the picture is an example of."""

        PLAIN = "plain", _("as it looks on a roof")
        ACCEPTABLE = "acceptable", _("acceptable")
        NOT_ACCEPTABLE = "not-acceptable", _("not acceptable")

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="photos")
    place = models.SlugField(max_length=80)
    anchor = models.CharField(max_length=14, choices=Anchor.choices)
    alt_en = models.CharField(max_length=300)
    alt_es = models.CharField(max_length=300)
    picture = models.CharField(max_length=64)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    added_at = models.DateTimeField(default=clock.now)
    added_by = models.UUIDField()

    objects: ClassVar = PhotoQuerySet.as_manager()

    class Meta:
        indexes: ClassVar = [models.Index(fields=["company", "place"], name="photo_by_place")]


class PhotoEnd(AppendOnly):
    """A picture was taken away from its place."""

    photo = models.OneToOneField(Photo, on_delete=models.PROTECT, related_name="end")
    ended_at = models.DateTimeField(default=clock.now)
    ended_by = models.UUIDField()
