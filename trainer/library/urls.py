"""Addresses of the library."""

from django.urls import URLPattern, URLResolver, path

from trainer.library import views
from trainer.library.calculator import views as calculator
from trainer.library.photographs import views as photographs

STAFF = "c/<slug:company>"
urlpatterns: list[URLPattern | URLResolver] = [
    path(f"{STAFF}/modules/", views.module_list, name="module-list"),
    path(f"{STAFF}/modules/<slug:slug>/", views.module, name="module"),
    # Beside the trainees' lessons/SLUG/, so that a lesson's ../OTHER/ leads to the other lesson in both places.
    path(f"{STAFF}/lessons/<slug:slug>/", views.lesson_preview, name="lesson-preview"),
    path(f"{STAFF}/modules/<slug:slug>/questions/<slug:stem>/", views.question_preview, name="question-preview"),
    path(f"{STAFF}/specifications/", views.specifications, name="specifications"),
    path(f"{STAFF}/specifications/<slug:name>/<str:label>/", views.specification, name="specification"),
    path(f"{STAFF}/specifications/<slug:name>/<str:label>/adopt/", views.adopt, name="adopt"),
    path(f"{STAFF}/photos/", photographs.photos, name="photos"),
    path(f"{STAFF}/photos/add/", photographs.photo_add, name="photo-add"),
    path(f"{STAFF}/photos/<uuid:ref>/picture/", photographs.photo_picture, name="photo-picture"),
    path(f"{STAFF}/photos/<uuid:ref>/end/", photographs.photo_end, name="photo-end"),
    path(f"{STAFF}/calculator/", calculator.calculator, name="calculator"),
    path(f"{STAFF}/calculator/bill/", calculator.bill, name="bill"),
    path(f"{STAFF}/calculator/<slug:rule>/", calculator.calculator_rule, name="calculator-rule"),
]
