"""The records app."""

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    """Name the app."""

    name = "trainer.records"
    label = "records"
