"""The world that the walk over every address happens in: two companies, every role in both, and objects of the own one.

Each app adds what its addresses name: `objects_APP.py` holds `make(world) -> dict[str, object]`, and `APP.toml` lists
every address with who gets in:

    ["url-name"]
    roles = ["trainer", "office"]       # of the own company; the others, and the other company, get 404
    methods = ["get", "post"]           # what the walk tries; `get` where nothing is said
    args = { ref = "assignment" }       # the address's own parts, by name of an object; `company` fills itself in
    data = { note = "seen" }            # what a post sends; the name of an object stands for the object
    public = true                       # strangers get in too, and so does everybody
    shared = true                       # its parts name what all companies share: others get in by role too
    private = true                      # of one person or crew: another trainee, another crew's foreman get 404
"""

import importlib
import importlib.util
from dataclasses import dataclass, field
from typing import Any

from tests import factories
from trainer.people.access import Member
from trainer.people.models import Company, Crew, Role

APPS = ("people", "library", "training", "exams", "records", "audit", "home")  # in the order that relations point


@dataclass
class World:
    """Two companies with somebody of every role; `trainee` and `foreman` are of `crew`, `other_…` of another crew."""

    company: Company
    other_company: Company
    crew: Crew
    members: dict[str, Member]
    outsiders: dict[str, Member]
    other_trainee: Member
    other_foreman: Member
    objects: dict[str, Any] = field(default_factory=dict)


def make_world() -> World:
    """Make the two companies, their people, and each app's objects."""
    company = factories.CompanyFactory.create(name="Own Roofing", slug="own")
    other = factories.CompanyFactory.create(name="Other Roofing", slug="other")
    crew, other_crew = factories.crew(company, "Crew A"), factories.crew(company, "Crew B")
    outside_crew = factories.crew(other, "Crew C")
    world = World(
        company=company,
        other_company=other,
        crew=crew,
        members=_one_of_each(company, crew),
        outsiders=_one_of_each(other, outside_crew),
        other_trainee=factories.member(company, Role.TRAINEE, crew=other_crew, name="Another Trainee"),
        other_foreman=factories.member(company, Role.FOREMAN, crew=other_crew, name="Another Foreman"),
    )
    for app in APPS:
        name = f"tests.access.objects_{app}"
        if importlib.util.find_spec(name) is not None:
            world.objects.update(importlib.import_module(name).make(world))
    return world


def _one_of_each(company: Company, crew: Crew) -> dict[str, Member]:
    members = {}
    for role in Role.values:
        on_crew = crew if role in (Role.TRAINEE, Role.FOREMAN) else None
        members[role] = factories.member(company, role, crew=on_crew, name=f"{company.slug} {role}")
    return members
