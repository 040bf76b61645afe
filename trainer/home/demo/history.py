"""The demo's history: a scenario file told through the services, day by day, with the clock set.

Nothing is written to a table by hand: what the demo shows is what the services made of a year of work.
"""

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from functools import partial
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from trainer.base import clock, ids
from trainer.base.errors import Refused
from trainer.exams import queries as exams
from trainer.exams import services as exam_services
from trainer.exams.models import Sitting
from trainer.exams.plans import publish_plan
from trainer.home.demo.trials import answer_like, practice
from trainer.library import queries as library
from trainer.library.services import adopt_specification, load_lessons
from trainer.people import services as people
from trainer.people.access import Member, member_of
from trainer.people.models import Account, Company, Crew, CrewPlace
from trainer.records import services as records
from trainer.records.models import CompletionRecord, Qualification
from trainer.records.services import define_qualification
from trainer.training import services as training

Say = Callable[[str], None]
EVENTS_ORDER = (
    "content",
    "company",
    "person",
    "crew",
    "adoption",
    "plan",
    "qualification",
    "assignment",
    "study",
    "award",
    "end",
)


@dataclass(order=True)
class Event:
    """Something that happened: at an instant, and of several at one instant in the order of `EVENTS_ORDER`."""

    at: datetime
    rank: int
    number: int
    act: Callable[[], object] = field(compare=False)


class History:
    """Reads a scenario, puts its events in order of time and lets them happen."""

    def __init__(self, scenario: dict[str, Any], folder: Path, today: date, say: Say) -> None:
        self.scenario = scenario
        self.folder = folder
        self.today = today
        self.say = say
        self.chance = random.Random(f"history {today.isoformat()}")  # noqa: S311  plausible, not secret
        self.companies: dict[str, Company] = {}
        self.accounts: dict[str, Account] = {}
        self.crews: dict[str, Crew] = {}
        self.abilities: dict[str, int] = {}
        self.events: list[Event] = []

    def happen(self) -> None:
        """Let the whole history happen, oldest first."""
        self._plan_companies()
        self._plan_people()
        self._plan_crews()
        self._plan_content()
        self._plan_study()
        for month, event in self._by_month():
            if month:
                self.say(f"  {month}")
            with clock.fixed(event.at):
                event.act()

    def _by_month(self) -> Iterator[tuple[str, Event]]:
        shown = ""
        for event in sorted(self.events):
            month = event.at.strftime("%B %Y")
            yield ("" if month == shown else month), event
            shown = month

    # ---------------------------------------------------------------------------------------------- planning
    def _at(self, days_ago: int, hour: int, minute: int = 0, zone: str = "America/Chicago") -> datetime:
        day = self.today - timedelta(days=days_ago)
        return datetime.combine(day, time(hour, minute), ZoneInfo(zone)).astimezone(UTC)

    def _add(self, at: datetime, kind: str, act: Callable[[], object]) -> None:
        self.events.append(Event(at, EVENTS_ORDER.index(kind), len(self.events), act))

    def _plan_companies(self) -> None:
        self._add(self._at(425, 8), "content", partial(load_lessons, folder=self.folder))
        made = [{**self.scenario["provider"], "is_provider": True}, *self.scenario["companies"]]
        for entry in made:
            self._add(self._at(420, 8), "company", partial(self._make_company, **entry))

    def _make_company(self, slug: str, **entry: Any) -> None:
        self.companies[slug] = people.add_company(slug=slug, by=None, **entry)

    def _plan_people(self) -> None:
        for entry in self.scenario["people"]:
            self.abilities[entry["key"]] = entry.get("ability", 90)
            for place in entry["memberships"]:
                self._add(self._at(place["from"], 9), "person", partial(self._join, entry, place))
        for company, trainees in self.scenario["trainees"].items():
            for key, entry in trainees.items():
                self.abilities[key] = entry["ability"]
                place = {"company": company, "roles": "trainee", "number": entry["number"]}
                full = {"key": key, **entry}
                self._add(self._at(entry["joined"], 7, 30), "person", partial(self._join, full, place))
                if "left" in entry:
                    self._add(self._at(entry["left"], 16), "end", partial(self._leave, key, company))

    def _join(self, entry: dict[str, Any], place: dict[str, Any]) -> None:
        company = self.companies[place["company"]]
        agreed = entry["key"] in self.accounts  # who serves a second company has said so: one account for both
        self.accounts[entry["key"]] = people.add_person(
            company=company,
            name=entry["name"],
            roles=place["roles"].split(),
            by=None if agreed else self._office(place["company"]),
            email=entry.get("email"),
            number=place.get("number", ""),
            language=entry.get("language", "en-us"),
        )
        for crew_name, crew in self.crews.items():
            if entry["key"] in self._members(crew_name):
                people.place_on_crew(crew=crew, account=self.accounts[entry["key"]], by=self._office(place["company"]))

    def _leave(self, key: str, company: str) -> None:
        people.end_membership(company=self.companies[company], account=self.accounts[key], by=self._office(company))

    def _office(self, company: str) -> Account | None:
        """Who enters people: the office's administrator once there is one, before that the program itself."""
        for entry in self.scenario["people"]:
            account = self.accounts.get(entry["key"])
            here = [place for place in entry["memberships"] if place["company"] == company]
            if account is not None and here and "administrator" in here[0]["roles"]:
                return account
        return None

    def _members(self, crew_name: str) -> list[str]:
        return next(list(entry["members"]) for entry in self.scenario["crews"] if entry["name"] == crew_name)

    def _plan_crews(self) -> None:
        for entry in self.scenario["crews"]:
            lead = self._joined(entry["lead"])
            self._add(self._at(lead, 10), "crew", partial(self._make_crew, entry))

    def _joined(self, key: str) -> int:
        for entry in self.scenario["people"]:
            if entry["key"] == key:
                return int(entry["memberships"][0]["from"])
        for trainees in self.scenario["trainees"].values():
            if key in trainees:
                return int(trainees[key]["joined"])
        raise KeyError(f"the scenario names {key!r}, whom it does not describe")

    def _left(self, key: str) -> int:
        found = [trainees[key].get("left", -1) for trainees in self.scenario["trainees"].values() if key in trainees]
        return int(found[0]) if found else -1

    def _make_crew(self, entry: dict[str, Any]) -> None:
        office = self._office(entry["company"])
        crew = people.make_crew(company=self.companies[entry["company"]], name=entry["name"], by=office)
        self.crews[entry["name"]] = crew
        lead = self.accounts[entry["lead"]]
        people.place_on_crew(crew=crew, account=lead, by=office, part=CrewPlace.Part.LEAD)
        for key in entry["members"]:
            if key in self.accounts:
                people.place_on_crew(crew=crew, account=self.accounts[key], by=office)

    def _plan_content(self) -> None:
        for entry in self.scenario["adoptions"]:
            self._add(self._at(entry["from"], 8), "adoption", partial(self._adopt, entry))
        for entry in self.scenario["plans"]:
            self._add(self._at(entry["from"], 9), "plan", partial(self._publish, entry))
        for entry in self.scenario["qualifications"]:
            self._add(self._at(entry["from"], 10), "qualification", partial(self._define, entry))
        for entry in self.scenario["revocations"]:
            self._add(self._at(entry["ago"], 15), "end", partial(self._revoke, entry))

    def _adopt(self, entry: dict[str, Any]) -> None:
        revision = library.revision(entry["specification"], entry["revision"])
        if revision is None:
            raise KeyError(f"the scenario adopts {entry['specification']}/{entry['revision']}, which is not loaded")
        company = self.companies[entry["company"]]
        adopt_specification(company=company, revision=revision, on=company.today(), by=self.accounts[entry["by"]])

    def _publish(self, entry: dict[str, Any]) -> None:
        company = self.companies[entry["company"]]
        default = exams.default_plan(entry["module"])
        if default is None:
            raise KeyError(f"the scenario plans {entry['module']}, which has no default plan")
        publish_plan(
            company=company,
            module=entry["module"],
            by=self.accounts[entry["by"]],
            passing_score=entry["passing_score"],
            minutes=default.minutes,
            wait_hours=default.wait_hours,
            valid_months=entry["valid_months"],
            effective_from=company.today(),
            reason_en=entry["reason_en"],
            reason_es=entry["reason_es"],
        )

    def _define(self, entry: dict[str, Any]) -> None:
        company = self.companies[entry["company"]]
        define_qualification(
            company=company,
            effective_from=company.today(),
            title_en=entry["title_en"],
            title_es=entry["title_es"],
            modules=entry["modules"],
            valid_months=entry["valid_months"],
            by=self.accounts[entry["by"]],
        )

    def _revoke(self, entry: dict[str, Any]) -> None:
        held = CompletionRecord.objects.filter(
            company=self.companies[entry["company"]], account=self.accounts[entry["person"]], subject=entry["module"]
        )
        record = held.order_by("pk").last()
        if record is not None:
            by = self.accounts[entry["by"]]
            records.revoke(record=record, by=by, reason_code=entry["reason_code"], reason=entry["text"])

    # ---------------------------------------------------------------------------------------------- study
    def _plan_study(self) -> None:
        for crew in self.scenario["crews"]:
            first = min(entry["from"] for entry in self.scenario["assignments"])
            for entry in self.scenario["assignments"]:
                at = self._at(min(entry["from"], self._joined(crew["lead"]) - 5), 7)
                self._add(at, "assignment", partial(self._assign_crew, crew, entry))
                for key in [crew["lead"], *crew["members"]]:
                    self._plan_person(key, crew, entry, delay=0 if entry["from"] > first else 21)
                    late = self._joined(key) - 4 - (0 if entry["from"] > first else 21)
                    if late < entry["from"] - entry["due_in"] and late > self._left(key):
                        self._add(self._at(late, 7), "assignment", partial(self._assign_person, key, crew, entry))

    def _assign_crew(self, crew: dict[str, Any], entry: dict[str, Any]) -> None:
        company = self.companies[crew["company"]]
        training.assign(
            company=company,
            module=entry["module"],
            due=company.today() + timedelta(days=entry["due_in"]),
            by=self.accounts["dorothea"],
            crew=self.crews[crew["name"]],
        )

    def _assign_person(self, key: str, crew: dict[str, Any], entry: dict[str, Any]) -> None:
        company = self.companies[crew["company"]]
        training.assign(
            company=company,
            module=entry["module"],
            due=company.today() + timedelta(days=entry["due_in"]),
            by=self.accounts["dorothea"],
            account=self.accounts[key],
        )

    def _plan_person(self, key: str, crew: dict[str, Any], entry: dict[str, Any], *, delay: int) -> None:
        """Study begins some days after the assignment or, for who joins later, some days after joining."""
        begins = min(entry["from"], self._joined(key) - 4 - delay) - self.chance.randrange(1, 10)
        left = self._left(key)
        if begins <= max(left, 0) + 1:
            return
        hour, minute = self.chance.randrange(6, 16), self.chance.randrange(60)
        company, module = crew["company"], entry["module"]
        self._add(self._at(begins, hour, minute), "study", partial(self._study, key, company, module))
        again = begins - self.chance.randrange(3, 7)
        if again > max(left, 0):
            self._add(self._at(again, hour, minute), "study", partial(self._sit, key, company, module))
        renewal = self.scenario["renewals"].get(key, {}).get(module, 0)
        if renewal:
            self._add(self._at(renewal, hour, minute), "study", partial(self._sit, key, company, module, renew=True))
        award = again - self.chance.randrange(2, 6)
        if award > max(left, 0):
            self._add(self._at(award, 16, 30), "award", partial(self._award, key, company))

    def _member(self, key: str, company: str) -> Member | None:
        account = self.accounts.get(key)
        return None if account is None else member_of(account, self.companies[company])

    def _study(self, key: str, company: str, module: str) -> None:
        """Read the lesson, practice, sit the exam."""
        member = self._member(key, company)
        version = library.current_module(module)
        if member is None or version is None:
            return
        adopted = library.adopted_for(member.company, library.module_of(version), on=member.today)
        if adopted is None:
            return
        reading = training.open_reading(member=member, version=version, revision=adopted.revision)
        clock.advance(timedelta(minutes=self.chance.randrange(5, 14)))
        training.finish_reading(reading=reading)
        if (self.today - member.today).days < member.company.practice_months * 30:
            practice(
                member, module, tries=self.chance.randrange(6, 12), ability=self.abilities[key], chance=self.chance
            )
        self._sit(key, company, module)

    def _sit(self, key: str, company: str, module: str, *, renew: bool = False) -> Sitting | None:
        member = self._member(key, company)
        if member is None or (not renew and self._holds(member, module)):
            return None
        try:
            sitting = exam_services.start_sitting(
                company=member.company, account=member.account, module=module, language=member.account.language
            )
        except Refused:
            return None
        ability = min(99, self.abilities[key] + 6 * (sitting.number - 1))
        answer_like(sitting, ability=ability, chance=self.chance)
        exam_services.end_sitting(sitting=sitting, by=member.account)
        return sitting

    def _holds(self, member: Member, module: str) -> bool:
        return CompletionRecord.objects.filter(
            company=member.company, account=member.account, subject=module, revocation__isnull=True
        ).exists()

    def _award(self, key: str, company: str) -> None:
        member = self._member(key, company)
        if member is None:
            return
        for qualification in Qualification.objects.filter(company=member.company):
            try:
                records.issue_qualification(
                    qualification=qualification, account=member.account, by=self.accounts["dorothea"]
                )
            except Refused:
                continue


def build(*, scenario: dict[str, Any], folder: Path, today: date, say: Say) -> History:
    """Make the demo's history up to a day; the same day gives the same history."""
    history = History(scenario, folder, today, say)
    with ids.seeded(f"demo {today.isoformat()}"):
        history.happen()
    return history
