"""The audit app."""

from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _

from trainer.base import menu


class AuditConfig(AppConfig):
    """Put the matrix, what lapses and a foreman's crew on the menu."""

    name = "trainer.audit"
    label = "audit"

    def ready(self) -> None:
        """Add the menu's lines."""
        menu.add(15, _("My crew"), "my-crew", "foreman", in_company=True)
        menu.add(55, _("Matrix"), "matrix", "trainer", "evaluator", "office", "administrator", in_company=True)
        menu.add(57, _("What lapses"), "lapses", "office", "administrator", in_company=True)
