"""One person in several companies: each company knows the person by an account of its own until the person agrees."""

from django.db import transaction

from trainer.base import clock, journal
from trainer.people.models import Account, Company, CompanyAccount, CompanyAccountAnswer


def find_account(company: Company, email: str | None, by: Account | None) -> tuple[Account | None, Account | None]:
    """Find who signs in by an address, and the account by which the company knows or may know that person.

    Returns:
        The account that the address signs in, and the account to give a place to. The second is None where the
        company never had the person: whoever adds somebody by an address must not read who that is elsewhere.
    """
    behind = Account.objects.filter(email__iexact=email).first() if email else None
    if behind is None:
        return None, None
    if by is None or behind.memberships.filter(company=company).exists():
        return behind, behind
    here = CompanyAccount.objects.filter(company=company, owner=behind).select_related("account").first()
    return behind, None if here is None else here.account


def make_account(company: Company, behind: Account | None, *, name: str, email: str | None, language: str) -> Account:
    """Make an account for somebody new to the company; with somebody behind it, it signs in by their account alone."""
    if behind is None:
        return Account.objects.create_user(name=name, email=email, language=language)
    account = Account.objects.create_user(name=name, language=language)
    CompanyAccount.objects.create(company=company, account=account, owner=behind, made_at=clock.now())
    return account


@transaction.atomic
def answer_place(*, company_account: CompanyAccount, yes: bool) -> None:
    """Note what the owner said to the company that added them; after a yes their sign-in works there too.

    The account takes the owner's language, for it is they who read; nothing else passes between the two.
    """
    said = set(company_account.answers.values_list("yes", flat=True))
    if True in said or yes in said:
        return
    CompanyAccountAnswer.objects.create(company_account=company_account, yes=yes, answered_at=clock.now())
    if yes:
        account = company_account.account
        account.language = company_account.owner.language
        account.save(update_fields=["language"])
        journal.write("place-taken", account, by=account, company=company_account.company)
