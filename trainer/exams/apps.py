"""The exams app."""

from django.apps import AppConfig


class ExamsConfig(AppConfig):
    """Name the app."""

    name = "trainer.exams"
    label = "exams"
