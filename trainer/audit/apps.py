"""The audit app."""

from django.apps import AppConfig


class AuditConfig(AppConfig):
    """Name the app."""

    name = "trainer.audit"
    label = "audit"
