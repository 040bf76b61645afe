"""The home app: the first page of each role, and the demo."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class HomeConfig(AppConfig):
    """Name the app, add the first pages to the menu, and tell training how to look up who completed a module."""

    name = "trainer.home"
    label = "home"

    def ready(self) -> None:
        """Connect what lies below."""
        from trainer.base import menu  # noqa: PLC0415  the menu needs the apps to be ready
        from trainer.home.queries import module_completions  # noqa: PLC0415  models load only once apps are ready
        from trainer.training import progress  # noqa: PLC0415

        progress.look_up_completions_with(module_completions)
        menu.add(10, _("For today"), "today", "trainee", in_company=False)
        menu.add(5, _("Today"), "trainer-day", "trainer", "evaluator", in_company=True)
