"""Assignments, reading and practice. Only reading is kept as a fact; practice is no evidence and is pruned."""

from typing import ClassVar

from django.db import models
from django.db.models import Q

from trainer.base import clock, ids
from trainer.base.append_only import AppendOnly, AppendOnlyQuerySet
from trainer.library.models import ModuleVersion, SpecificationRevision
from trainer.people.access import Member, account_ids_visible_to
from trainer.people.models import Account, Company, Crew


class AssignmentQuerySet(AppendOnlyQuerySet):
    """Assignments, as somebody may see them."""

    def visible_to(self, member: Member) -> "AssignmentQuerySet":
        """Keep the company's assignments; who sees only some people sees only what those people are to do."""
        rows = self.filter(company=member.company)
        visible = account_ids_visible_to(member)
        if visible is None:
            return rows
        return rows.filter(Q(account__in=visible) | Q(crew__places__account__in=visible)).distinct()

    def open(self) -> "AssignmentQuerySet":
        """Keep those that nobody has withdrawn."""
        return self.filter(end__isnull=True)


class Assignment(AppendOnly):
    """A module that a person, or everybody on a crew, is to complete by the end of a day."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="assignments")
    module = models.SlugField(max_length=80)
    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="assignments", null=True)
    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="assignments", null=True)
    due = models.DateField()
    made_at = models.DateTimeField(default=clock.now)
    made_by = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="+")

    objects: ClassVar = AssignmentQuerySet.as_manager()

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(account__isnull=False, crew__isnull=True) | Q(account__isnull=True, crew__isnull=False),
                name="assignment_to_person_or_crew",
            )
        ]
        indexes: ClassVar = [models.Index(fields=["company", "due"], name="assignment_by_due_day")]


class AssignmentEnd(AppendOnly):
    """The assignment was withdrawn."""

    assignment = models.OneToOneField(Assignment, on_delete=models.PROTECT, related_name="end")
    ended_at = models.DateTimeField(default=clock.now)
    ended_by = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="+")


class ReadingQuerySet(AppendOnlyQuerySet):
    """Readings, as somebody may see them."""

    def visible_to(self, member: Member) -> "ReadingQuerySet":
        """Keep the readings of people that the member may see."""
        rows = self.filter(company=member.company)
        visible = account_ids_visible_to(member)
        return rows if visible is None else rows.filter(account__in=visible)


class Reading(AppendOnly):
    """Somebody opened a lesson, in this version and language, filled with this revision's values."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="readings")
    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="readings")
    module_version = models.ForeignKey(ModuleVersion, on_delete=models.PROTECT, related_name="readings")
    revision = models.ForeignKey(SpecificationRevision, on_delete=models.PROTECT, related_name="readings")
    language = models.CharField(max_length=2)
    opened_at = models.DateTimeField(default=clock.now)

    objects: ClassVar = ReadingQuerySet.as_manager()

    class Meta:
        indexes: ClassVar = [models.Index(fields=["company", "account"], name="reading_by_person")]


class ReadingEnd(AppendOnly):
    """The reader said that the lesson was read; minutes since it was opened, at most an hour."""

    reading = models.OneToOneField(Reading, on_delete=models.PROTECT, related_name="end")
    ended_at = models.DateTimeField(default=clock.now)
    minutes = models.PositiveSmallIntegerField()


class PracticeCaseQuerySet(models.QuerySet["PracticeCase"]):
    """Practice, as somebody may see it."""

    def visible_to(self, member: Member) -> "PracticeCaseQuerySet":
        """Keep the own practice only: others see how it goes, not each try."""
        return self.filter(company=member.company, account=member.account)

    def answered(self) -> "PracticeCaseQuerySet":
        """Keep the cases that have been answered."""
        return self.filter(answered_at__isnull=False)


class PracticeCase(models.Model):
    """A case drawn for practice, and what was answered. It can be made again from version, revision and seed."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="practice_cases")
    account = models.ForeignKey(Account, on_delete=models.CASCADE, related_name="practice_cases")
    module = models.SlugField(max_length=80)
    question = models.CharField(max_length=160)  # MODULE/QUESTION
    module_version = models.ForeignKey(ModuleVersion, on_delete=models.PROTECT, related_name="practice_cases")
    revision = models.ForeignKey(SpecificationRevision, on_delete=models.PROTECT, related_name="practice_cases")
    language = models.CharField(max_length=2)
    seed = models.CharField(max_length=64)
    drawn_at = models.DateTimeField(default=clock.now)
    response = models.TextField(blank=True)  # canonical JSON of what was answered
    right = models.BooleanField(null=True)
    mistakes = models.CharField(max_length=200, blank=True)  # ids of the mistakes that explain the answer
    seconds = models.PositiveIntegerField(null=True)
    answered_at = models.DateTimeField(null=True)

    objects = PracticeCaseQuerySet.as_manager()

    class Meta:
        indexes: ClassVar = [
            models.Index(fields=["account", "module", "answered_at"], name="practice_by_person"),
            models.Index(fields=["drawn_at"], name="practice_by_age"),
        ]

    def __str__(self) -> str:
        return f"{self.question} #{self.pk}"
