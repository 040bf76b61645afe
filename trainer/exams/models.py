"""Exam plans, sittings, their sheets, each saved answer, the end and the score: rows that are written once.

Nothing here changes. A sitting is open while it has no `SittingEnd`; what somebody answered is the latest answer row
of a sheet; "ended once" and "scored once" are unique rows. Everything that a verdict needs is the stored case.
"""

from typing import Any, ClassVar, cast

from django.db import models
from django.db.models import Exists, F, OuterRef, Q
from django.utils.translation import gettext_lazy as _

from trainer.base import clock, ids
from trainer.base.append_only import AppendOnly, AppendOnlyQuerySet
from trainer.base.dated import Dated
from trainer.base.models import Evidence
from trainer.library.models import ModuleVersion, SpecificationRevision
from trainer.people.access import Member, account_ids_visible_to
from trainer.people.models import Account, Company, Language


class ExamPlanQuerySet(AppendOnlyQuerySet):
    """Plans, as a member may see them."""

    def visible_to(self, member: Member) -> "ExamPlanQuerySet":
        """Keep the default plans and the member's company's own."""
        return self.filter(Q(company__isnull=True) | Q(company=member.company))


class ExamPlan(Dated):
    """From this day on the module check is drawn, timed and passed like this; for one company or, by default, for all.

    `scope` repeats the company's ref, empty for the default, because a null key matches nothing in SQL.
    """

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, null=True, related_name="exam_plans")
    scope = models.CharField(max_length=36, blank=True)
    module = models.SlugField(max_length=80)
    withdrawn = models.BooleanField(default=False)  # from this day on the company follows the default plan again
    questions = models.PositiveSmallIntegerField()
    topics = models.TextField()  # canonical JSON: topic -> how many questions
    critical = models.TextField()  # canonical JSON: list of question ids that each sitting holds and nobody may miss
    passing_score = models.PositiveSmallIntegerField()  # how many questions right, a whole number
    reason_en = models.TextField()
    reason_es = models.TextField()
    minutes = models.PositiveSmallIntegerField()
    wait_hours = models.PositiveSmallIntegerField()
    valid_months = models.PositiveSmallIntegerField()

    KEY: ClassVar[tuple[str, ...]] = ("scope", "module")

    objects: ClassVar[Any] = ExamPlanQuerySet.as_manager()

    class Meta:
        indexes: ClassVar = [models.Index(fields=["scope", "module", "effective_from"], name="exam_plan_by_day")]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(passing_score__gte=1, passing_score__lte=F("questions")), name="exam_plan_can_be_passed"
            ),
            models.CheckConstraint(condition=Q(minutes__gte=1), name="exam_plan_has_time"),
            models.CheckConstraint(
                condition=(Q(company__isnull=True) & Q(scope="")) | (Q(company__isnull=False) & ~Q(scope="")),
                name="exam_plan_scope_is_company",
            ),
        ]


class SittingQuerySet(AppendOnlyQuerySet):
    """Sittings, as a member may see them, and those still open."""

    def visible_to(self, member: Member) -> "SittingQuerySet":
        """Keep the company's sittings of the people whose rows the member may see."""
        rows = self.filter(company=member.company)
        accounts = account_ids_visible_to(member)
        return rows if accounts is None else rows.filter(account__in=accounts)

    def open(self) -> "SittingQuerySet":
        """Keep the sittings that nobody and no clock has ended yet."""
        return self.exclude(Exists(SittingEnd.objects.filter(sitting=OuterRef("pk"))))


class Sitting(AppendOnly):
    """One person's go at a module check. `seed` decides questions and numbers and never leaves the server.

    `number` counts a person's sittings of the module in the company; unique, it keeps two from opening at once.
    """

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="sittings")
    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="sittings")
    module = models.SlugField(max_length=80)
    number = models.PositiveSmallIntegerField()
    plan = models.ForeignKey(ExamPlan, on_delete=models.PROTECT, related_name="sittings")
    module_version = models.ForeignKey(ModuleVersion, on_delete=models.PROTECT, related_name="sittings")
    specification_revision = models.ForeignKey(SpecificationRevision, on_delete=models.PROTECT, related_name="sittings")
    language = models.CharField(max_length=5, choices=Language.choices)  # when it was started
    started_at = models.DateTimeField(default=clock.now)
    ends_at = models.DateTimeField()  # by the server's clock
    seed = models.CharField(max_length=64)

    objects: ClassVar[Any] = SittingQuerySet.as_manager()

    class Meta:
        indexes: ClassVar = [
            models.Index(fields=["ends_at"], name="sitting_by_end"),
            models.Index(fields=["company", "started_at"], name="sitting_by_company_day"),
        ]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["company", "account", "module", "number"], name="sitting_number_once_a_person"
            ),
            models.CheckConstraint(condition=Q(ends_at__gt=F("started_at")), name="sitting_ends_after_start"),
        ]

    def __repr__(self) -> str:
        """Show the ref, never the seed."""
        return f"<Sitting {self.ref}>"

    @property
    def ended(self) -> "SittingEnd | None":
        """How and when it ended; None while it is open."""
        return cast("SittingEnd | None", getattr(self, "end", None))

    @property
    def scored(self) -> "SittingScore | None":
        """What came of it; None while it is open."""
        return cast("SittingScore | None", getattr(self, "score", None))

    @property
    def is_overdue(self) -> bool:
        """Whether its time has run out by the server's clock."""
        return bool(self.ends_at <= clock.now())


class Sheet(AppendOnly):
    """One question of a sitting: the whole case as it was made, both languages, answer and tolerance, as evidence."""

    sitting = models.ForeignKey(Sitting, on_delete=models.PROTECT, related_name="sheets")
    number = models.PositiveSmallIntegerField()  # from 1, as in "question 7 of 10"
    question = models.CharField(max_length=160)  # MODULE/QUESTION
    topic = models.CharField(max_length=80)
    critical = models.BooleanField()
    evidence = models.ForeignKey(Evidence, on_delete=models.PROTECT, related_name="sheets")

    class Meta:
        ordering = ("number",)
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["sitting", "number"], name="sheet_number_once_a_sitting"),
            models.UniqueConstraint(fields=["sitting", "question"], name="sheet_question_once_a_sitting"),
        ]


class SheetAnswer(AppendOnly):
    """An answer as it was saved; a changed answer is a new row.

    `send` is the UUID in the form that was sent: sending the same form again is the same row. Where somebody changes
    the answer on a form already sent, `turn` counts on.
    """

    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="answers")
    send = models.UUIDField()
    turn = models.PositiveSmallIntegerField(default=1)
    response = models.TextField()  # canonical JSON of what was entered; an empty object: taken back, blank
    language = models.CharField(max_length=5, choices=Language.choices)
    saved_at = models.DateTimeField(default=clock.now)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["sheet", "send", "turn"], name="answer_once_a_send")]


class SittingEnd(AppendOnly):
    """The one end of a sitting."""

    class How(models.TextChoices):
        """What ended it."""

        PERSON = "person", _("ended by the person")
        CLOCK = "clock", _("time ran out")

    sitting = models.OneToOneField(Sitting, on_delete=models.PROTECT, related_name="end")
    ended_at = models.DateTimeField()
    how = models.CharField(max_length=6, choices=How.choices)
    recorded_at = models.DateTimeField(default=clock.now)


class SittingScore(AppendOnly):
    """The one score of a sitting, worked out from its stored cases and answers alone."""

    sitting = models.OneToOneField(Sitting, on_delete=models.PROTECT, related_name="score")
    right = models.PositiveSmallIntegerField()
    of = models.PositiveSmallIntegerField()
    passed = models.BooleanField()
    critical_missed = models.PositiveSmallIntegerField()
    evidence = models.ForeignKey(Evidence, on_delete=models.PROTECT, related_name="scores")  # verdict on every sheet
    scored_at = models.DateTimeField(default=clock.now)

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(right__lte=F("of")), name="score_within_questions"),
            models.CheckConstraint(
                condition=Q(passed=False) | Q(critical_missed=0), name="no_pass_with_a_critical_miss"
            ),
        ]


def plan_numbers(plan: ExamPlan) -> dict[str, Any]:
    """Give what a plan says besides its day and reason, to tell two plans apart."""
    names = ("questions", "topics", "critical", "passing_score", "minutes", "wait_hours", "valid_months")
    return {name: getattr(plan, name) for name in names}
