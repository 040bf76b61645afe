"""The training app: assignments, reading, practice."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class TrainingConfig(AppConfig):
    """Name the app and add its lines to the menu."""

    name = "trainer.training"
    label = "training"

    def ready(self) -> None:
        """Add Lessons, Practice and Assignments."""
        from trainer.base import menu  # noqa: PLC0415  the menu needs the apps to be ready

        menu.add(20, _("Lessons"), "lessons", "trainee", "foreman", in_company=False)
        menu.add(30, _("Practice"), "practice", "trainee", in_company=False)
        menu.add(25, _("Assignments"), "assignments", "trainer", "office", in_company=True)
