"""Changes to who belongs where and who may sign in. Each is one transaction and one journal line."""

from trainer.people.services.cards import end_card, find_card, make_card, use_card
from trainer.people.services.crews import make_crew, place_on_crew
from trainer.people.services.members import (
    add_company,
    add_person,
    change_language,
    change_roles,
    end_membership,
)

__all__ = [
    "add_company",
    "add_person",
    "change_language",
    "change_roles",
    "end_card",
    "end_membership",
    "find_card",
    "make_card",
    "make_crew",
    "place_on_crew",
    "use_card",
]
