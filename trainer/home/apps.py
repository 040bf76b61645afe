"""The home app."""

from django.apps import AppConfig


class HomeConfig(AppConfig):
    """Name the app."""

    name = "trainer.home"
    label = "home"
