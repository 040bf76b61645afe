"""Qualifications, completion records, what became of them, and each company's register.

A record holds refs, codes and digests. Names as printed are `Sealed` rows, reached by digest, so that a person can be
erased while the record and the register stay whole.
"""

from datetime import date
from typing import Any, ClassVar, cast

from django.db import models
from django.db.models import F, Q
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from trainer.base import clock, ids
from trainer.base.append_only import AppendOnly, AppendOnlyQuerySet
from trainer.base.dated import Dated
from trainer.base.models import Evidence
from trainer.exams.models import Sitting
from trainer.library.models import ModuleVersion, SpecificationRevision
from trainer.people.access import Member, account_ids_visible_to
from trainer.people.models import Account, Company, Language


class QualificationQuerySet(AppendOnlyQuerySet):
    """Qualifications, as a member may see them."""

    def visible_to(self, member: Member) -> "QualificationQuerySet":
        """Keep the qualifications of the member's company."""
        return self.filter(company=member.company)


class Qualification(AppendOnly):
    """What a company's people may be qualified for; what it takes is told by its dated definitions."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="qualifications")
    slug = models.SlugField(max_length=80)
    made_at = models.DateTimeField(default=clock.now)

    objects: ClassVar[Any] = QualificationQuerySet.as_manager()

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["company", "slug"], name="qualification_once_a_company")
        ]


class QualificationDefinition(Dated):
    """From this day on the qualification takes these modules and holds so long; no modules: it is no longer given."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    qualification = models.ForeignKey(Qualification, on_delete=models.PROTECT, related_name="definitions")
    title_en = models.CharField(max_length=120)
    title_es = models.CharField(max_length=120)
    modules = models.CharField(max_length=1000, blank=True)  # slugs parted by spaces
    valid_months = models.PositiveSmallIntegerField(null=True)  # None: as long as its modules

    KEY: ClassVar[tuple[str, ...]] = ("qualification",)

    class Meta:
        indexes: ClassVar = [models.Index(fields=["qualification", "effective_from"], name="definition_by_day")]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(valid_months__isnull=True) | Q(valid_months__gte=1), name="definition_months_above_nought"
            )
        ]

    @property
    def module_slugs(self) -> list[str]:
        """The modules that it takes, in the order they were entered."""
        return self.modules.split()

    @property
    def title(self) -> str:
        """The title in the language of the page."""
        return self.title_es if (get_language() or "en").startswith("es") else self.title_en


class RegisterEntry(AppendOnly):
    """One leaf of a company's register: canonical JSON text, no names, and its hash."""

    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="register_entries")
    seq = models.PositiveBigIntegerField()
    leaf = models.TextField()
    leaf_hash = models.CharField(max_length=64)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["company", "seq"], name="register_seq_once_a_company")]


class RegisterHead(models.Model):
    """How long a company's register is, the right edge of its tree, and its root; locked while an entry is added."""

    company = models.OneToOneField(Company, on_delete=models.PROTECT, related_name="register_head")
    size = models.PositiveBigIntegerField(default=0)
    edge = models.TextField(blank=True)  # hexadecimal hashes parted by spaces
    root = models.CharField(max_length=64)


class RecordKind(models.TextChoices):
    """What a record says was completed."""

    MODULE = "module", _("module")
    QUALIFICATION = "qualification", _("qualification")


class RecordQuerySet(AppendOnlyQuerySet):
    """Records, as a member may see them, and those that stood on a day."""

    def visible_to(self, member: Member) -> "RecordQuerySet":
        """Keep the company's records of the people whose rows the member may see."""
        rows = self.filter(company=member.company)
        accounts = account_ids_visible_to(member)
        return rows if accounts is None else rows.filter(account__in=accounts)


class CompletionRecord(AppendOnly):
    """The permanent record of a module completed or a qualification earned.

    `document` is what it says, as canonical JSON without names; its digest stands in the register. The columns repeat
    what queries need. `holder_digest` and `assigner_digest` bind the names as printed.
    """

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="records")
    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="records")
    kind = models.CharField(max_length=13, choices=RecordKind.choices)
    subject = models.SlugField(max_length=80)  # slug of the module or the qualification
    serial = models.CharField(max_length=20)
    code = models.CharField(max_length=12, unique=True)
    language = models.CharField(max_length=5, choices=Language.choices)
    effective_on = models.DateField()
    valid_until = models.DateField(null=True)  # inclusive; None: no end
    sitting = models.OneToOneField(Sitting, on_delete=models.PROTECT, related_name="record", null=True)
    module_version = models.ForeignKey(ModuleVersion, on_delete=models.PROTECT, related_name="records", null=True)
    specification_revision = models.ForeignKey(
        SpecificationRevision, on_delete=models.PROTECT, related_name="records", null=True
    )
    definition = models.ForeignKey(QualificationDefinition, on_delete=models.PROTECT, related_name="records", null=True)
    document = models.OneToOneField(Evidence, on_delete=models.PROTECT, related_name="record")
    holder_digest = models.CharField(max_length=64)
    assigner_digest = models.CharField(max_length=64, blank=True)
    entry = models.OneToOneField(RegisterEntry, on_delete=models.PROTECT, related_name="record")
    issued_at = models.DateTimeField(default=clock.now)
    issued_by = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="+", null=True)  # None: the program

    objects: ClassVar[Any] = RecordQuerySet.as_manager()

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["company", "serial"], name="record_serial_once_a_company"),
            models.CheckConstraint(
                condition=Q(kind="module", sitting__isnull=False, definition__isnull=True)
                | Q(kind="qualification", sitting__isnull=True, definition__isnull=False),
                name="record_rests_on_sitting_or_definition",
            ),
            models.CheckConstraint(
                condition=Q(valid_until__isnull=True) | Q(valid_until__gte=F("effective_on")),
                name="record_valid_after_effective",
            ),
        ]
        indexes: ClassVar = [
            models.Index(fields=["company", "account", "kind", "subject"], name="record_by_person_subject"),
            models.Index(fields=["company", "valid_until"], name="record_by_last_day"),
        ]

    @property
    def revoked(self) -> "RecordRevocation | None":
        """Why and when it was revoked; None while it stands."""
        return cast("RecordRevocation | None", getattr(self, "revocation", None))

    def held_on(self, day: date) -> bool:
        """Tell whether the record stood on a day, as known now."""
        revoked = self.revoked
        within = self.effective_on <= day and (self.valid_until is None or day <= self.valid_until)
        return within and (revoked is None or day < revoked.effective_from)


class RecordBasis(AppendOnly):
    """A qualification record rests on this module record."""

    qualification_record = models.ForeignKey(CompletionRecord, on_delete=models.PROTECT, related_name="bases")
    module_record = models.ForeignKey(CompletionRecord, on_delete=models.PROTECT, related_name="carried")

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["qualification_record", "module_record"], name="record_basis_once")
        ]


class RevocationReason(models.TextChoices):
    """Why a record was revoked; what else there is to say is sealed."""

    ENTERED_IN_ERROR = "entered-in-error", _("entered in error")
    NOT_OWN_ANSWERS = "not-own-answers", _("the answers were not the person's own")
    WORK_SHOWS_A_GAP = "work-shows-a-gap", _("the work on a roof shows a gap")
    BASIS_REVOKED = "basis-revoked", _("a record that it rests on was revoked")
    OTHER = "other", _("another reason")


class RecordRevocation(AppendOnly):
    """The record is void from this day on. It is never undone: a new sitting earns a new record."""

    record = models.OneToOneField(CompletionRecord, on_delete=models.PROTECT, related_name="revocation")
    effective_from = models.DateField()
    reason_code = models.CharField(max_length=20, choices=RevocationReason.choices)
    reason_digest = models.CharField(max_length=64, blank=True)  # of the sealed free text
    document = models.OneToOneField(Evidence, on_delete=models.PROTECT, related_name="revocation")
    entry = models.OneToOneField(RegisterEntry, on_delete=models.PROTECT, related_name="revocation")
    at = models.DateTimeField(default=clock.now)
    by = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="+")
