"""Addresses of exams."""

from django.urls import path

from trainer.exams import staff_views, views

urlpatterns = [
    path("exams/", views.exams, name="exams"),
    path("exams/<slug:module>/start/", views.start, name="exam-start"),
    path("sittings/<uuid:ref>/questions/<int:number>/", views.sheet, name="exam-sheet"),
    path("sittings/<uuid:ref>/", views.table, name="exam-table"),
    path("sittings/<uuid:ref>/result/", views.result, name="exam-result"),
    path("c/<slug:company>/exams/", staff_views.plans, name="exam-plans"),
    path("c/<slug:company>/exams/<slug:module>/", staff_views.plan, name="exam-plan"),
    path("c/<slug:company>/exams/<slug:module>/default/", staff_views.default, name="exam-plan-default"),
    path("c/<slug:company>/sittings/", staff_views.sittings, name="sittings"),
    path("c/<slug:company>/sittings/<uuid:ref>/", staff_views.sitting, name="sitting"),
]
