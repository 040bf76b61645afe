"""Every address of the site, one list an app."""

from django.urls import include, path

urlpatterns = [
    path("", include("trainer.home.urls")),
    path("", include("trainer.people.urls")),
    path("", include("trainer.training.urls")),
    path("", include("trainer.library.urls")),
    path("", include("trainer.exams.urls")),
    path("", include("trainer.records.urls")),
    path("", include("trainer.audit.urls")),
]
