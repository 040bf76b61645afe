"""The library app."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class LibraryConfig(AppConfig):
    """Name the app and add its lines to the menu."""

    name = "trainer.library"
    label = "library"

    def ready(self) -> None:
        """Add the library's lines to the menu of each role."""
        from trainer.base import menu  # noqa: PLC0415  apps must be ready first
        from trainer.people.models import Role  # noqa: PLC0415

        menu.add(
            40,
            _("Lessons and questions"),
            "module-list",
            Role.TRAINER,
            Role.EVALUATOR,
            Role.OFFICE,
            Role.ADMINISTRATOR,
            in_company=True,
        )
        menu.add(
            60,
            _("Calculator"),
            "calculator",
            Role.FOREMAN,
            Role.TRAINER,
            Role.EVALUATOR,
            Role.OFFICE,
            in_company=True,
        )
        menu.add(
            70,
            _("Specifications"),
            "specifications",
            Role.FOREMAN,
            Role.TRAINER,
            Role.EVALUATOR,
            Role.OFFICE,
            Role.ADMINISTRATOR,
            in_company=True,
        )
