"""Changes to crews and to who is on them."""

from datetime import date

from django.db import transaction
from django.utils.translation import gettext as _

from trainer.base import clock, journal
from trainer.base.dated import account_ref
from trainer.base.errors import Refused
from trainer.base.texts import one_line
from trainer.people.models import Account, Company, Crew, CrewPlace, Role
from trainer.people.services.members import roles_on


@transaction.atomic
def make_crew(*, company: Company, name: str, by: Account | None) -> Crew:
    """Make a crew; its people are placed on it afterwards."""
    Company.objects.select_for_update().get(pk=company.pk)
    name = one_line(name)
    if not name:
        raise Refused(_("Enter the crew's name."), field="name")
    if Crew.objects.filter(company=company, name__iexact=name).exists():
        raise Refused(_("The company already has a crew of this name; choose another name."), field="name")
    crew = Crew.objects.create(company=company, name=name)
    journal.write("crew-made", crew, by=by, company=company)
    return crew


@transaction.atomic
def place_on_crew(
    *,
    crew: Crew,
    account: Account,
    by: Account | None,
    part: str = CrewPlace.Part.MEMBER,
    effective_from: date | None = None,
) -> CrewPlace:
    """Say what the person is to the crew from a day on: `member`, `lead`, or `left`."""
    Company.objects.select_for_update().get(pk=crew.company.pk)
    day = effective_from or crew.company.today()
    if part not in CrewPlace.Part.values:
        raise Refused(_("Choose what the person is to the crew: member, lead, or left."), field="part")
    roles = roles_on(crew.company, account, day)
    if part != CrewPlace.Part.LEFT and not roles:
        raise Refused(_("This person does not belong to the company on that day; add the person first."))
    if part == CrewPlace.Part.LEAD and Role.FOREMAN not in roles:
        raise Refused(_("Only a foreman leads a crew: give the person that role first."), field="part")
    row = CrewPlace.objects.create(
        crew=crew, account=account, part=part, effective_from=day, recorded_at=clock.now(), recorded_by=account_ref(by)
    )
    journal.write("placed-on-crew", account, by=by, company=crew.company, crew=crew.ref, part=part, day=day.isoformat())
    return row
