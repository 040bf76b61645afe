"""The people app: accounts, companies, crews, memberships, sign-in, and who may see what."""

from django.apps import AppConfig


class PeopleConfig(AppConfig):
    """Name the app."""

    name = "trainer.people"
    label = "people"
