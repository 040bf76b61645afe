"""Which revision a company installs to, on any day, as known at any instant."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from tests.library.folder import NEW, OLD, SPECIFICATION
from trainer.base import clock
from trainer.base.errors import Refused
from trainer.base.models import JournalEntry
from trainer.library import queries, services
from trainer.library.models import Adoption, ModuleVersion, SpecificationRevision
from trainer.people.access import Member
from trainer.people.models import Company

pytestmark = pytest.mark.django_db
SPRING = date(2025, 3, 1)


def in_force(company: Company, on: date, known_at: datetime | None = None) -> str | None:
    """Give the label of the revision in force, or None."""
    found = queries.specification_in_force(company, SPECIFICATION, on=on, known_at=known_at)
    return found.revision.revision if found else None


@pytest.fixture
def old(version: ModuleVersion) -> SpecificationRevision:
    """Give the older revision."""
    found = queries.revision(SPECIFICATION, OLD)
    assert found is not None
    return found


def test_it_has_no_revision_before_one_is_adopted(company: Company, version: ModuleVersion) -> None:
    """Nothing is assumed for a company that adopted nothing."""
    assert in_force(company, date(2030, 1, 1)) is None


def test_it_holds_from_its_day_on(
    company: Company, old: SpecificationRevision, revision: SpecificationRevision
) -> None:
    """The day itself counts, the day before does not; a later adoption takes over on its own day."""
    services.adopt_specification(company=company, revision=old, on=SPRING)
    services.adopt_specification(company=company, revision=revision, on=SPRING + timedelta(days=30))

    found = [in_force(company, SPRING + timedelta(days=days)) for days in (-1, 0, 29, 30, 900)]

    assert found == [None, OLD, OLD, NEW, NEW]


def test_it_gives_the_values_of_the_revision(company: Company, adoption: Adoption) -> None:
    """What is in force comes with its values."""
    found = queries.specification_in_force(company, SPECIFICATION, on=date(2026, 6, 1))

    assert found is not None
    assert found.specification.lookup("side_lap", "base").value == 4


def test_it_remembers_what_was_known_when(
    company: Company, old: SpecificationRevision, revision: SpecificationRevision
) -> None:
    """A day entered late changes what held on it, but not what was known before it was entered."""
    first, later = datetime(2025, 3, 1, 12, tzinfo=UTC), datetime(2025, 6, 1, 12, tzinfo=UTC)
    with clock.fixed(first):
        services.adopt_specification(company=company, revision=old, on=SPRING)
    with clock.fixed(later):
        services.adopt_specification(company=company, revision=revision, on=SPRING + timedelta(days=10))

    day = SPRING + timedelta(days=20)

    assert in_force(company, day, known_at=first + timedelta(hours=1)) == OLD
    assert in_force(company, day, known_at=later + timedelta(hours=1)) == NEW


def test_it_keeps_companies_apart(
    company: Company, other_company: Company, adoption: Adoption, outsider: Member
) -> None:
    """What one company adopts says nothing of another."""
    assert in_force(other_company, date(2026, 6, 1)) is None
    assert queries.adoptions_of(outsider) == []


def test_it_refuses_what_is_in_force_already(company: Company, adoption: Adoption) -> None:
    """Adopting the same revision again changes nothing, so it is refused with what to do."""
    with pytest.raises(Refused, match="in force on that day already") as refused:
        services.adopt_specification(company=company, revision=adoption.revision, on=date(2026, 6, 1))

    assert refused.value.field == "effective_from"
    assert Adoption.objects.count() == 1


def test_it_lets_a_mistaken_day_be_mended(
    company: Company, old: SpecificationRevision, revision: SpecificationRevision
) -> None:
    """Of two adoptions for one day, the one entered last holds; both stay on record."""
    services.adopt_specification(company=company, revision=revision, on=SPRING)
    services.adopt_specification(company=company, revision=old, on=SPRING)

    assert in_force(company, SPRING) == OLD
    assert Adoption.objects.count() == 2


def test_it_writes_the_journal(company: Company, trainer: Member, revision: SpecificationRevision) -> None:
    """Who adopted what is in the journal, with refs only."""
    services.adopt_specification(company=company, revision=revision, on=SPRING, by=trainer.account)

    line = JournalEntry.objects.get(verb="specification-adopted")
    assert (line.company, line.actor) == (company.ref, trainer.account.ref)
    assert f"{SPECIFICATION}/{NEW}" in line.details


def test_it_fills_a_module_only_from_the_revision_that_holds_its_values_on(
    company: Company, old: SpecificationRevision, revision: SpecificationRevision, version: ModuleVersion
) -> None:
    """A module with newer values has no adopted revision while the company installs to an older one."""
    services.adopt_specification(company=company, revision=old, on=SPRING)
    services.adopt_specification(company=company, revision=revision, on=SPRING + timedelta(days=30))
    module = queries.module_of(version)
    newer = replace(module, since=NEW)

    adopted = queries.adopted_for(company, module, on=SPRING)
    assert adopted is not None
    assert adopted.revision == old
    assert queries.adopted_for(company, newer, on=SPRING) is None
    later = queries.adopted_for(company, newer, on=SPRING + timedelta(days=30))
    assert later is not None
    assert later.revision == revision
