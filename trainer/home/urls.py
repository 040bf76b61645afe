"""Addresses of the first pages."""

from django.urls import path

from trainer.home import views

urlpatterns = [
    path("", views.index, name="index"),
    path("today/", views.today, name="today"),
    path("c/<slug:company>/today/", views.trainer_day, name="trainer-day"),
]
