"""Who belongs where: people, roles, the end of a membership."""

from datetime import date, timedelta

import pytest

from tests.factories import LONG_AGO, AccountFactory
from trainer.base.errors import Refused
from trainer.base.models import JournalEntry
from trainer.people import queries, services
from trainer.people.access import Member, member_of
from trainer.people.models import Company, Crew, CrewPlace, Membership, Role, SignInCard

pytestmark = pytest.mark.django_db


def test_it_adds_a_person_from_a_day_on(company: Company, office: Member) -> None:
    """Before the day the person holds nothing; from it on, the roles, in the order of the roles."""
    tomorrow = company.today() + timedelta(days=1)
    person = services.add_person(
        company=company,
        name="  Ana   Ruiz ",
        roles=[Role.FOREMAN, Role.TRAINEE],
        by=office.account,
        effective_from=tomorrow,
        language="es-us",
        number="41",
    )

    row = queries.members_on(company, tomorrow).get(account=person)

    assert member_of(person, company) is None
    assert (person.name, person.language, row.roles, row.number) == ("Ana Ruiz", "es-us", "trainee foreman", "41")
    assert row.recorded_by == office.account.ref
    assert not person.has_usable_password()


def test_it_journals_without_names(company: Company, office: Member) -> None:
    """The journal tells who did it, by refs and codes alone."""
    person = services.add_person(company=company, name="Ana Ruiz", roles=["trainee"], by=office.account)

    line = JournalEntry.objects.get(verb="person-added", actor=office.account.ref)

    assert (line.subject, line.company) == (f"account:{person.ref}", company.ref)
    assert "Ana" not in line.details


def test_it_gives_an_account_a_place_in_a_second_company(trainer: Member, other_company: Company) -> None:
    """A trainer who serves two companies stays one account, under the own name."""
    same = services.add_person(
        company=other_company,
        name="Somebody Else",
        email=str(trainer.account.email).upper(),
        roles=["trainer"],
        by=None,
    )

    assert same == trainer.account
    assert same.name == trainer.account.name
    assert set(queries.companies_of(same)) == {trainer.company, other_company}


@pytest.mark.parametrize(
    ("change", "field", "says"),
    [
        ({"name": "   "}, "name", "Enter the person's name"),
        ({"roles": []}, "roles", "at least one role"),
        ({"roles": ["boss"]}, "roles", "boss"),
        ({"roles": ["trainer"], "email": ""}, "email", "sign in by e-mail"),
        ({"name": "\u202e\u200b\x08"}, "name", "Enter the person's name"),
        ({"email": "ana at home"}, "email", "name@company.example"),
        ({"email": f"{'a' * 243}@company.example"}, "email", "name@company.example"),
        ({"language": "fr"}, "language", "English or Spanish"),
        ({"number": "7"}, "number", "number 7"),
        ({"number": " \u200f7"}, "number", "number 7"),
        ({"email": "taken@company.example"}, "email", "already belongs"),
        ({"roles": ["administrator"], "email": "a@company.example"}, "roles", "Only an administrator"),
    ],
    ids=lambda value: "" if isinstance(value, dict) else value,
)
def test_it_refuses(company: Company, office: Member, change: dict[str, object], field: str, says: str) -> None:
    """A refusal says why, beside the field, and adds nobody."""
    services.add_person(
        company=company, name="X", roles=["trainee"], by=None, number="7", email="taken@company.example"
    )
    before = Membership.objects.count()
    given = {"name": "Ana", "roles": ["trainee"], **change}
    with pytest.raises(Refused) as refused:
        services.add_person(company=company, by=office.account, **given)  # type: ignore[arg-type]

    assert says in str(refused.value)
    assert refused.value.field == field
    assert Membership.objects.count() == before


def test_it_keeps_only_letters_that_are_seen(company: Company, office: Member) -> None:
    """Marks that turn text around, hide in it or break files are left out of names and numbers."""
    ana = services.add_person(
        company=company,
        name="\u202eAna\x08\u2066  Ru\u00adiz\n",
        number="\ufeff4\x001",
        roles=["trainee"],
        by=office.account,
    )
    crew = services.make_crew(company=company, name="Crew\t\u200bA", by=office.account)

    assert (ana.name, Membership.objects.get(account=ana).number, crew.name) == ("Ana Ruiz", "41", "Crew A")
    row = services.change_roles(company=company, account=ana, roles=["foreman"], number="4\u200d2", by=office.account)
    assert row.number == "42"


def test_it_lets_two_companies_use_the_same_number(company: Company, other_company: Company) -> None:
    """A number is a company's own."""
    for each in (company, other_company):
        services.add_person(company=each, name="Ana", roles=["trainee"], by=None, number="7")

    assert Membership.objects.filter(number="7").count() == 2


def test_it_changes_roles_from_a_day_on(trainee: Member, office: Member) -> None:
    """Yesterday still says what was so yesterday."""
    company, today = trainee.company, trainee.today
    services.change_roles(company=company, account=trainee.account, roles=["foreman"], by=office.account)

    def roles_on(day: object) -> str:
        return queries.members_on(company, day).get(account=trainee.account).roles  # type: ignore[arg-type]

    assert roles_on(today) == "foreman"
    assert roles_on(today - timedelta(days=1)) == "trainee"


def test_it_changes_no_roles_of_a_stranger(company: Company, office: Member) -> None:
    """Somebody who does not belong to the company is added first."""
    with pytest.raises(Refused, match="add the person first"):
        services.change_roles(company=company, account=AccountFactory.create(), roles=["trainee"], by=office.account)


def test_it_keeps_somebody_who_manages_people(company: Company, office: Member) -> None:
    """The last of office and administrator cannot leave or step down."""
    for leave in (
        lambda: services.end_membership(company=company, account=office.account, by=office.account),
        lambda: services.change_roles(company=company, account=office.account, roles=["trainee"], by=office.account),
    ):
        with pytest.raises(Refused, match="Nobody would be left"):
            leave()


def test_it_lets_one_of_two_managers_go(company: Company, office: Member, administrator: Member) -> None:
    """While another one stays, a manager may leave."""
    services.end_membership(company=company, account=office.account, by=administrator.account)

    assert member_of(office.account, company) is None


def test_it_lets_only_an_administrator_take_that_role(company: Company, office: Member, administrator: Member) -> None:
    """The office can neither demote nor end an administrator."""
    for change in (
        lambda: services.end_membership(company=company, account=administrator.account, by=office.account),
        lambda: services.change_roles(
            company=company, account=administrator.account, roles=["office"], by=office.account
        ),
    ):
        with pytest.raises(Refused, match="Only an administrator"):
            change()


def test_it_lets_only_an_administrator_end_that_role_planned_for_later(company: Company, office: Member) -> None:
    """Ending a membership before the day the role begins would take it just the same."""
    promoted = services.add_person(
        company=company, name="Ada", roles=["trainee"], by=None, effective_from=date(2024, 1, 1), email="ada@x.example"
    )
    services.change_roles(
        company=company, account=promoted, roles=["administrator"], by=None, effective_from=date(2025, 1, 1)
    )

    with pytest.raises(Refused, match="Only an administrator"):
        services.end_membership(company=company, account=promoted, by=office.account, effective_from=date(2024, 6, 1))

    promoted_member = member_of(promoted, company)
    assert promoted_member is not None
    assert promoted_member.roles == {"administrator"}


def test_it_keeps_the_last_manager_whose_role_is_planned(company: Company) -> None:
    """Ending a membership before the day its office role begins leaves nobody to manage people later."""
    last = services.add_person(
        company=company, name="Ada", roles=["trainee"], by=None, effective_from=date(2024, 1, 1), email="ada@x.example"
    )
    services.change_roles(company=company, account=last, roles=["office"], by=None, effective_from=date(2025, 1, 1))

    with pytest.raises(Refused, match="Nobody would be left"):
        services.end_membership(company=company, account=last, by=last, effective_from=date(2024, 6, 1))

    assert member_of(last, company) is not None


def test_it_ends_a_membership_whole(trainee: Member, crew: Crew, office: Member) -> None:
    """The person leaves the crews, cards end, and no change that was planned for later brings the person back."""
    company, today = trainee.company, trainee.today
    later = today + timedelta(days=10)
    services.change_roles(
        company=company, account=trainee.account, roles=["foreman"], by=office.account, effective_from=later
    )
    services.place_on_crew(crew=crew, account=trainee.account, part="lead", by=office.account, effective_from=later)
    card, _token = services.make_card(company=company, account=trainee.account, by=office.account)

    services.end_membership(company=company, account=trainee.account, by=office.account)

    for day in (today, later, later + timedelta(days=1)):
        assert not queries.members_on(company, day).filter(account=trainee.account).exists()
        assert not queries.places_on(company, day).filter(account=trainee.account).exists()
    assert queries.members_on(company, today - timedelta(days=1)).filter(account=trainee.account).exists()
    assert SignInCard.objects.filter(pk=card.pk, end__isnull=False).exists()


def test_it_ends_no_membership_twice(trainee: Member, office: Member) -> None:
    """What has ended is not ended again."""
    services.end_membership(company=trainee.company, account=trainee.account, by=office.account)
    with pytest.raises(Refused, match="does not belong"):
        services.end_membership(company=trainee.company, account=trainee.account, by=office.account)


def test_it_takes_somebody_back(trainee: Member, office: Member) -> None:
    """Somebody who left may be added again, under the same account."""
    company = trainee.company
    services.end_membership(company=company, account=trainee.account, by=office.account)
    again = services.add_person(
        company=company, name="x", roles=["trainee"], email=trainee.account.email, by=office.account
    )

    assert again == trainee.account
    assert member_of(again, company) is not None


def test_it_makes_a_crew_name_once(company: Company, crew: Crew, office: Member) -> None:
    """Two crews of one name could not be told apart on a daily sheet."""
    with pytest.raises(Refused, match="already has a crew"):
        services.make_crew(company=company, name=crew.name.upper(), by=office.account)
    with pytest.raises(Refused, match="Enter the crew's name"):
        services.make_crew(company=company, name=" ", by=office.account)


def test_it_lets_only_a_foreman_lead(trainee: Member, crew: Crew, office: Member) -> None:
    """Leading a crew is a foreman's part."""
    with pytest.raises(Refused, match="Only a foreman"):
        services.place_on_crew(crew=crew, account=trainee.account, part="lead", by=office.account)
    with pytest.raises(Refused, match="member, lead, or left"):
        services.place_on_crew(crew=crew, account=trainee.account, part="chief", by=office.account)


def test_it_places_nobody_from_another_company(crew: Crew, outsider: Member, office: Member) -> None:
    """A crew is of its company's people."""
    with pytest.raises(Refused, match="does not belong"):
        services.place_on_crew(crew=crew, account=outsider.account, by=office.account)


def test_it_reads_crews_by_day(trainee: Member, crew: Crew, office: Member) -> None:
    """Who left today was there yesterday."""
    services.place_on_crew(crew=crew, account=trainee.account, part=CrewPlace.Part.LEFT, by=office.account)
    company, today = trainee.company, trainee.today

    assert trainee.account.pk not in queries.crews_by_account(company, today)
    assert trainee.account.pk in queries.crews_by_account(company, today - timedelta(days=1))
    assert trainee.account.pk not in queries.crews_by_account(company, LONG_AGO - timedelta(days=1))
