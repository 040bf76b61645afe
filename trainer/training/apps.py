"""The training app."""

from django.apps import AppConfig


class TrainingConfig(AppConfig):
    """Name the app."""

    name = "trainer.training"
    label = "training"
