"""Who holds what on a day, as known at an instant: the matrix, what lapses, and a foreman's crew; bounded queries."""

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Final
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet

from trainer.base.dated import in_force
from trainer.people.access import Member, crews_led
from trainer.people.models import Company, Crew, CrewPlace, Membership, Role
from trainer.records import queries as records
from trainer.records.models import RecordKind
from trainer.records.states import STATE_WORDS, State, state_until

ON_ROOFS: Final = Q(roles__contains=Role.TRAINEE) | Q(roles__contains=Role.FOREMAN)
Subject = tuple[str, str]  # kind and slug


@dataclass(frozen=True)
class AsOf:
    """A day, and the instant whose knowledge counts: None for all that is known now."""

    on: date
    known_at: datetime | None = None


@dataclass(frozen=True)
class Column:
    """A module or qualification, with its title in the page's language."""

    kind: str
    subject: str
    title: str

    @property
    def key(self) -> Subject:
        """Kind and slug."""
        return self.kind, self.subject

    @property
    def is_qualification(self) -> bool:
        """Whether it is a qualification."""
        return self.kind == RecordKind.QUALIFICATION


@dataclass(frozen=True)
class Cell:
    """How one person stands with one column: the state in words, and the record behind it."""

    column: Column
    state: State
    words: str
    valid_until: date | None = None
    record: UUID | None = None
    revision: str = ""

    @property
    def without_end(self) -> bool:
        """Whether it is held and has no last day."""
        return self.record is not None and self.valid_until is None


@dataclass(frozen=True)
class Row:
    """One person of the company, the crews on that day, and a cell for each column."""

    account: int
    ref: UUID
    name: str
    number: str
    crews: str
    cells: list[Cell]


def end_of_day(company: Company, day: date) -> datetime:
    """Give the last instant of a company's day."""
    midnight = datetime.combine(day + timedelta(days=1), time(0), ZoneInfo(company.time_zone))
    return midnight - timedelta(microseconds=1)


# -------------------------------------------------------------------------------------------------------- the matrix
def people(
    company: Company, as_of: AsOf, *, search: str = "", crew: Crew | None = None, accounts: Iterable[int] | None = None
) -> "QuerySet[Membership]":
    """Give who worked on roofs for the company on the day, by name; search finds a name or the company's number."""
    rows = in_force(
        Membership.objects.filter(company=company), key=Membership.KEY, on=as_of.on, known_at=as_of.known_at
    ).filter(ON_ROOFS)
    if search:
        rows = rows.filter(Q(account__name__icontains=search) | Q(number__icontains=search))
    if crew is not None:
        rows = rows.filter(account__in=_places(company, as_of).filter(crew=crew).values("account"))
    if accounts is not None:
        rows = rows.filter(account__in=list(accounts))
    return rows.select_related("account").order_by("account__name", "account_id")


def columns(company: Company, as_of: AsOf) -> list[Column]:
    """List qualifications, then modules, by title: those given on the day and those that somebody holds a record of."""
    titles: dict[Subject, str] = {("module", slug): title for slug, title in records.module_titles().items()}
    given = records.definitions_in_force(company, on=as_of.on, known_at=as_of.known_at)
    titles |= {("qualification", row.qualification.slug): row.title for row in given}
    standing = records.standing(company, on=as_of.on, known_at=as_of.known_at)
    missing = set(standing.values_list("kind", "subject").distinct()) - titles.keys()
    earlier = records.titles_ever(company) if missing else {}
    titles |= {key: earlier.get(key[1], key[1]) for key in missing}
    made = [Column(kind, slug, title) for (kind, slug), title in titles.items()]
    return sorted(made, key=lambda column: (not column.is_qualification, column.title.casefold()))


def rows_of(company: Company, members: Iterable[Membership], across: list[Column], as_of: AsOf) -> list[Row]:
    """Give a row for each membership, with a cell for each column; two queries."""
    listed = list(members)
    accounts = [member.account_id for member in listed]
    best = _best(company, as_of, accounts)
    crews: dict[int, list[str]] = defaultdict(list)
    for account, name in _places(company, as_of).filter(account__in=accounts).values_list("account_id", "crew__name"):
        crews[account].append(name)
    cell = _cells(as_of.on, company.lapse_notice_days)
    return [
        Row(
            account=member.account_id,
            ref=member.account.ref,
            name=member.account.name,
            number=member.number,
            crews=", ".join(sorted(crews[member.account_id])),
            cells=[cell(column, best.get((member.account_id, *column.key))) for column in across],
        )
        for member in listed
    ]


@dataclass(frozen=True, slots=True)
class Held:
    """The record that holds longest of those that one person has of one subject."""

    valid_until: date | None
    ref: UUID
    revision: str

    @property
    def last(self) -> date:
        """The last day; the end of time where there is none."""
        return self.valid_until or date.max


def _best(company: Company, as_of: AsOf, accounts: Iterable[int]) -> dict[tuple[int, str, str], Held]:
    """Give, for each person and subject, the standing record that holds longest; one query."""
    rows = records.standing(company, on=as_of.on, known_at=as_of.known_at).filter(account__in=list(accounts))
    best: dict[tuple[int, str, str], Held] = {}
    for account, kind, subject, until, ref, revision in rows.order_by("pk").values_list(
        "account_id", "kind", "subject", "valid_until", "ref", "specification_revision__revision"
    ):
        key, held = (account, kind, subject), Held(until, ref, revision or "")
        if key not in best or held.last >= best[key].last:
            best[key] = held
    return best


def _cells(on: date, notice: int) -> Callable[[Column, Held | None], Cell]:
    """Give the function that makes a day's cells; each state is put into words once, not once a cell."""
    words = {state: str(text) for state, text in STATE_WORDS.items()}

    def cell(column: Column, held: Held | None) -> Cell:
        if held is None:
            return Cell(column, State.NONE, words[State.NONE])
        state = state_until(held.valid_until, on, notice)
        return Cell(column, state, words[state], held.valid_until, held.ref, held.revision)

    return cell


def _places(company: Company, as_of: AsOf) -> "QuerySet[CrewPlace]":
    """Give who was on which of the company's crews on the day."""
    rows = CrewPlace.objects.filter(crew__company=company)
    held = in_force(rows, key=CrewPlace.KEY, on=as_of.on, known_at=as_of.known_at)
    return held.exclude(part=CrewPlace.Part.LEFT)


def crews_of(company: Company) -> list[Crew]:
    """List the company's crews by name."""
    return list(Crew.objects.filter(company=company))


# ------------------------------------------------------------------------------------------------------- what lapses
@dataclass(frozen=True)
class Lapse:
    """Something that a person holds and will lapse, or has lapsed."""

    name: str
    crews: str
    title: str
    cell: Cell


def lapses(company: Company, *, within: int | None, search: str = "") -> list[Lapse]:
    """List what lapses within so many days from today on, soonest first; None: what has lapsed."""
    today = company.today()
    as_of = AsOf(today)
    last = None if within is None else today + timedelta(days=within)
    rows = rows_of(company, people(company, as_of, search=search), columns(company, as_of), as_of)
    found = [
        Lapse(row.name, row.crews, cell.column.title, cell)
        for row in rows
        for cell in row.cells
        if cell.valid_until is not None and _lapses(cell.valid_until, today, last)
    ]
    return sorted(found, key=lambda lapse: (lapse.cell.valid_until or date.max, lapse.name))


def _lapses(valid_until: date, today: date, last: date | None) -> bool:
    return valid_until < today if last is None else today <= valid_until <= last


# ---------------------------------------------------------------------------------------------------- a foreman's crew
@dataclass(frozen=True)
class CrewRows:
    """A crew and how its people stand."""

    crew: Crew
    rows: list[Row]


def crew_rows(member: Member) -> list[CrewRows]:
    """Give, for each crew that the member leads today, its people with what they hold; bounded queries."""
    as_of = AsOf(member.today)
    crews = crews_led(member)
    on_crew: dict[int, set[int]] = defaultdict(set)
    for crew, account in _places(member.company, as_of).filter(crew__in=crews).values_list("crew_id", "account_id"):
        on_crew[crew].add(account)
    everybody = people(member.company, as_of, accounts=set().union(*on_crew.values()))
    rows = rows_of(member.company, everybody, columns(member.company, as_of), as_of)
    return [CrewRows(crew, [row for row in rows if row.account in on_crew[crew.pk]]) for crew in crews]


def now_known(company: Company, day: date | None) -> datetime | None:
    """Give the instant whose knowledge counts for "as known on" a day; None for no day, and for today and later."""
    if day is None or day >= company.today():
        return None
    return end_of_day(company, day)
