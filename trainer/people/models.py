"""Accounts, companies, crews and the dated rows that say who belonged where, in which roles, on which day."""

from typing import TYPE_CHECKING, Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from trainer.base import clock, ids
from trainer.base.append_only import AppendOnly, AppendOnlyQuerySet
from trainer.base.dated import Dated
from trainer.questions import model as content

if TYPE_CHECKING:
    from trainer.people.access import Member


class Role(models.TextChoices):
    """What a member does in a company; one person may hold several."""

    TRAINEE = "trainee", _("trainee")
    FOREMAN = "foreman", _("foreman")
    TRAINER = "trainer", _("trainer")
    EVALUATOR = "evaluator", _("evaluator")
    OFFICE = "office", _("office")
    ADMINISTRATOR = "administrator", _("administrator")


class Language(models.TextChoices):
    """A language that pages and lessons come in; content files use the first two letters."""

    ENGLISH = "en-us", _("English")
    SPANISH = "es-us", _("Spanish")


class AccountQuerySet(models.QuerySet["Account"]):
    """Accounts, and those among them that a member may see."""

    def visible_to(self, member: "Member") -> "AccountQuerySet":
        """Keep the accounts that the member may see; people who left the company stay, for its records name them."""
        from trainer.people.access import account_ids_visible_to  # noqa: PLC0415  access reads these models

        in_company = self.filter(pk__in=Membership.objects.filter(company=member.company).values("account"))
        visible = account_ids_visible_to(member)
        return in_company if visible is None else in_company.filter(pk__in=visible)


class AccountManager(BaseUserManager["Account"].from_queryset(AccountQuerySet)):  # type: ignore[misc]
    """Make accounts; a crew member needs no e-mail address and no password."""

    def create_user(
        self, *, name: str, email: str | None = None, password: str | None = None, **extra: Any
    ) -> "Account":
        """Make an account; without a password it signs in by card only."""
        account = self.model(name=name, email=self.normalize_email(email) if email else None, **extra)
        account.set_password(password)
        account.save(using=self._db)
        return account


class Account(AbstractBaseUser):
    """One person, in however many companies. What the person may do comes from memberships, never from here."""

    ref = models.UUIDField(unique=True, default=ids.new_ref, editable=False)
    email = models.EmailField(_("e-mail address"), unique=True, null=True, blank=True)
    name = models.CharField(_("name"), max_length=120)
    language = models.CharField(_("language"), max_length=5, choices=Language.choices, default=Language.ENGLISH)
    is_active = models.BooleanField(default=True)
    made_at = models.DateTimeField(default=clock.now)

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    objects = AccountManager()

    def __str__(self) -> str:
        return self.name

    @property
    def content_language(self) -> content.Language:
        """The two letters that lessons, questions and rules use: `en` or `es`."""
        return "es" if self.language == Language.SPANISH else "en"

    @property
    def address(self) -> str | None:
        """The e-mail address by which a company knows the person: the own, or that of the account behind this one."""
        if self.email:
            return str(self.email)
        behind = CompanyAccount.objects.filter(account=self).select_related("owner").first()
        return None if behind is None else behind.owner.email


class Company(models.Model):
    """A roofing company, or a training provider whose trainers serve several; the tenant of every row below."""

    ref = models.UUIDField(unique=True, default=ids.new_ref, editable=False)
    slug = models.SlugField(unique=True)
    name = models.CharField(max_length=120)
    time_zone = models.CharField(max_length=40, default="America/Chicago")
    is_provider = models.BooleanField(default=False)
    practice_months = models.PositiveSmallIntegerField(default=6)  # practice answers older than this are pruned
    lapse_notice_days = models.PositiveSmallIntegerField(default=60)  # "lapses soon" begins so many days before
    made_at = models.DateTimeField(default=clock.now)

    class Meta:
        verbose_name_plural = "companies"
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name

    def today(self) -> Any:
        """Give the day it is at the company now."""
        return clock.day_in(self.time_zone)


class Membership(Dated):
    """From this day on the person holds these roles in the company; no roles: the membership has ended."""

    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="memberships")
    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="memberships")
    roles = models.CharField(max_length=80, blank=True)  # role values in the order of `Role`, parted by spaces
    number = models.CharField(max_length=30, blank=True)  # the company's own number for the person

    KEY: ClassVar[tuple[str, ...]] = ("company", "account")

    class Meta:
        indexes: ClassVar = [models.Index(fields=["company", "account", "effective_from"], name="membership_by_day")]

    @property
    def role_set(self) -> frozenset[str]:
        """The roles as a set of `Role` values."""
        return frozenset(self.roles.split())

    @property
    def role_labels(self) -> list[Any]:
        """The names of the roles, in order, for a page."""
        return [Role(value).label for value in self.roles.split()]


class CompanyAccount(AppendOnly):
    """What one company calls somebody whose e-mail address signs an account in that it did not make.

    The company sees `account`, with the name and language that it entered, and nothing of `owner`, whose name and
    companies are not its business. Once the owner has said yes, whoever signs in as the owner works here as `account`.
    """

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="company_accounts")
    account = models.OneToOneField(Account, on_delete=models.PROTECT, related_name="company_account")
    owner = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="company_accounts")
    made_at = models.DateTimeField(default=clock.now)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["company", "owner"], name="company_account_once_a_company")
        ]


class CompanyAccountAnswer(AppendOnly):
    """What the owner said to a company that added them: yes, that is me; or no. A yes stays; a no may become a yes."""

    company_account = models.ForeignKey(CompanyAccount, on_delete=models.PROTECT, related_name="answers")
    yes = models.BooleanField()
    answered_at = models.DateTimeField(default=clock.now)


class CrewQuerySet(models.QuerySet["Crew"]):
    """Crews, and those among them that a member may see."""

    def visible_to(self, member: "Member") -> "CrewQuerySet":
        """Keep the company's crews for those who see the company, and the crews that the member leads for others."""
        from trainer.people.access import crews_led  # noqa: PLC0415  access reads these models

        in_company = self.filter(company=member.company)
        return in_company if member.sees_company else in_company.filter(pk__in=[crew.pk for crew in crews_led(member)])


class Crew(models.Model):
    """People who work together on roofs."""

    ref = models.UUIDField(unique=True, default=ids.new_ref, editable=False)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="crews")
    name = models.CharField(max_length=60)
    made_at = models.DateTimeField(default=clock.now)

    objects = CrewQuerySet.as_manager()

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["company", "name"], name="crew_name_once_a_company")]
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name


class CrewPlace(Dated):
    """From this day on the person is on the crew, leads it, or has left it."""

    class Part(models.TextChoices):
        """What the person is to the crew."""

        MEMBER = "member", _("member")
        LEAD = "lead", _("lead")
        LEFT = "left", _("left")

    crew = models.ForeignKey(Crew, on_delete=models.PROTECT, related_name="places")
    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="crew_places")
    part = models.CharField(max_length=6, choices=Part.choices)

    KEY: ClassVar[tuple[str, ...]] = ("crew", "account")

    class Meta:
        indexes: ClassVar = [models.Index(fields=["crew", "account", "effective_from"], name="crew_place_by_day")]
        constraints: ClassVar = [
            models.CheckConstraint(condition=Q(part__in=["member", "lead", "left"]), name="crew_place_part_known")
        ]


class SignInCardQuerySet(AppendOnlyQuerySet):
    """Cards, and those among them that a member may see."""

    def visible_to(self, member: "Member") -> "SignInCardQuerySet":
        """Keep the company's cards of the accounts that the member may see."""
        return self.filter(company=member.company, account__in=Account.objects.visible_to(member))


class SignInCard(AppendOnly):
    """A printed card or message link that signs one phone in, once; only the token's digest is kept."""

    ref = models.UUIDField(unique=True, default=ids.new_ref)
    company = models.ForeignKey(Company, on_delete=models.PROTECT, related_name="cards")
    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="cards")
    token_digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(default=clock.now)
    made_by = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="+", null=True)
    good_until = models.DateTimeField()

    objects: ClassVar = SignInCardQuerySet.as_manager()


class CardUse(AppendOnly):
    """The one time that a card was used up."""

    card = models.OneToOneField(SignInCard, on_delete=models.PROTECT, related_name="use")
    used_at = models.DateTimeField(default=clock.now)


class CardEnd(AppendOnly):
    """The card, and the phone that it signed in, were ended by somebody."""

    card = models.OneToOneField(SignInCard, on_delete=models.PROTECT, related_name="end")
    ended_at = models.DateTimeField(default=clock.now)
    ended_by = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="+")
