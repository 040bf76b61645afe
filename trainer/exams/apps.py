"""The exams app: plans, sittings, scores."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class ExamsConfig(AppConfig):
    """Name the app, add its lines to the menu, and listen to the library."""

    name = "trainer.exams"
    label = "exams"

    def ready(self) -> None:
        """Add Exam and Exams; publish plans when modules are loaded."""
        from trainer.base import menu  # noqa: PLC0415  the menu needs the apps to be ready
        from trainer.exams import receivers  # noqa: F401, PLC0415  connects when models are loaded

        menu.add(40, _("Exam"), "exams", "trainee", in_company=False)
        menu.add(40, _("Exams"), "exam-plans", "trainer", "office", in_company=True)
