"""The base app: what every other app stands on."""

from django.apps import AppConfig
from django.core.checks import Tags, register
from django.db.models.signals import post_migrate


class BaseConfig(AppConfig):
    """Put the append-only triggers back after each migrate and report missing ones."""

    name = "trainer.base"
    label = "base"

    def ready(self) -> None:
        """Connect the trigger installer and its check."""
        from trainer.base import append_only  # noqa: PLC0415  models load only once apps are ready

        post_migrate.connect(append_only.install_after_migrate, dispatch_uid="append_only.install")
        register(Tags.database)(append_only.check_triggers)
