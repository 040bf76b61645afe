"""Addresses of training."""

from django.urls import path

from trainer.training import views

urlpatterns = [
    path("lessons/", views.lessons, name="lessons"),
    path("lessons/<slug:slug>/", views.lesson, name="lesson"),
    path("lessons/<slug:slug>/readings/<uuid:ref>/", views.reading_end, name="reading-end"),
    path("practice/", views.practice, name="practice"),
    path("practice/<slug:slug>/draw/", views.practice_draw, name="practice-draw"),
    path("practice/cases/<uuid:ref>/", views.practice_case, name="practice-case"),
    path("c/<slug:company>/assignments/", views.assignments, name="assignments"),
    path("c/<slug:company>/assignments/new/", views.assign, name="assign"),
    path("c/<slug:company>/assignments/<uuid:ref>/", views.assignment, name="assignment"),
]
