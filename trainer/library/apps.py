"""The library app."""

from django.apps import AppConfig


class LibraryConfig(AppConfig):
    """Name the app."""

    name = "trainer.library"
    label = "library"
