"""Addresses of the audit."""

from django.urls import URLPattern, URLResolver, path

from trainer.audit import views

urlpatterns: list[URLPattern | URLResolver] = [
    path("c/<slug:company>/matrix/", views.matrix, name="matrix"),
    path("c/<slug:company>/matrix.csv", views.matrix_csv, name="matrix-csv"),
    path("c/<slug:company>/matrix.xlsx", views.matrix_xlsx, name="matrix-xlsx"),
    path("c/<slug:company>/lapses/", views.lapses, name="lapses"),
    path("c/<slug:company>/my-crew/", views.my_crew, name="my-crew"),
]
