"""The records app."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _

from trainer.base import menu


class RecordsConfig(AppConfig):
    """Issue records when sittings are scored, and put the app's pages on the menu."""

    name = "trainer.records"
    label = "records"

    def ready(self) -> None:
        """Connect the receiver and add the menu's lines."""
        from trainer.records import receivers  # noqa: F401, PLC0415

        menu.add(50, _("My record"), "my-record", "trainee", in_company=False)
        menu.add(60, _("Register"), "register", "office", "administrator", in_company=True)
