"""Changes to who belongs where and who may sign in. Each is one transaction and one journal line."""

from trainer.people.services.cards import end_card, find_card, make_card, may_make_card, use_card
from trainer.people.services.company import change_settings
from trainer.people.services.crews import make_crew, place_on_crew
from trainer.people.services.members import (
    add_company,
    add_person,
    change_language,
    change_roles,
    end_membership,
)
from trainer.people.services.places import answer_place
from trainer.people.services.roster import check_roster, import_roster
from trainer.people.services.roster_file import read_roster

__all__ = [
    "add_company",
    "add_person",
    "answer_place",
    "change_language",
    "change_roles",
    "change_settings",
    "check_roster",
    "end_card",
    "end_membership",
    "find_card",
    "import_roster",
    "make_card",
    "make_crew",
    "may_make_card",
    "place_on_crew",
    "read_roster",
    "use_card",
]
