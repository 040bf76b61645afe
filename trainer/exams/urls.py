"""Addresses of exams."""

from django.urls import path

from trainer.exams.views import own, staff

urlpatterns = [
    path("exams/", own.exams, name="exams"),
    path("exams/<slug:module>/start/", own.start, name="exam-start"),
    path("sittings/<uuid:ref>/questions/<int:number>/", own.sheet, name="exam-sheet"),
    path("sittings/<uuid:ref>/", own.table, name="exam-table"),
    path("sittings/<uuid:ref>/result/", own.result, name="exam-result"),
    path("c/<slug:company>/exams/", staff.plans, name="exam-plans"),
    path("c/<slug:company>/exams/<slug:module>/", staff.plan, name="exam-plan"),
    path("c/<slug:company>/exams/<slug:module>/default/", staff.default, name="exam-plan-default"),
    path("c/<slug:company>/sittings/", staff.sittings, name="sittings"),
    path("c/<slug:company>/sittings/<uuid:ref>/", staff.sitting, name="sitting"),
]
