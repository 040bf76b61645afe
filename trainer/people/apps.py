"""The people app: accounts, companies, crews, memberships, sign-in, and who may see what."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _

from trainer.base import menu


class PeopleConfig(AppConfig):
    """Add the menu's lines about people and crews."""

    name = "trainer.people"
    label = "people"

    def ready(self) -> None:
        """Add the menu's lines."""
        menu.add(20, _("Crews"), "crews", "trainer", "office", "administrator", in_company=True)
        menu.add(60, _("People"), "people", "office", "administrator", in_company=True)
        menu.add(80, _("Company settings"), "company-settings", "office", "administrator", in_company=True)
