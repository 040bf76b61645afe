"""Addresses of records: a person's own, staff's, the register, qualifications, and the page for strangers."""

from django.urls import URLPattern, URLResolver, path

from trainer.records.views import own, qualifications, records, verify

urlpatterns: list[URLPattern | URLResolver] = [
    path("my-record/", own.my_record, name="my-record"),
    path("my-record/<uuid:ref>/", own.own_record, name="own-record"),
    path("my-record/<uuid:ref>/paper/", own.own_record_pdf, name="own-record-pdf"),
    path("c/<slug:company>/records/<uuid:ref>/", records.record, name="record"),
    path("c/<slug:company>/records/<uuid:ref>/paper/", records.record_pdf, name="record-pdf"),
    path("c/<slug:company>/records/<uuid:ref>/revocation/", records.revocation, name="revocation"),
    path("c/<slug:company>/register/", records.register, name="register"),
    path("c/<slug:company>/qualifications/", qualifications.qualifications, name="qualifications"),
    path("c/<slug:company>/qualifications/new/", qualifications.qualification_new, name="qualification-new"),
    path("c/<slug:company>/qualifications/<uuid:ref>/", qualifications.qualification, name="qualification"),
    path(
        "c/<slug:company>/qualifications/<uuid:ref>/definition/",
        qualifications.definition_new,
        name="qualification-definition",
    ),
    path("c/<slug:company>/qualifications/<uuid:ref>/issue/", qualifications.issue, name="qualification-issue"),
    # Capitals, as the QR code on paper has them; the small letter is for people who type.
    path("V/", verify.look_up, name="verify-lookup"),
    path("V/<str:code>", verify.verify, name="verify"),
    path("v/", verify.look_up, name="verify-lookup-typed"),
    path("v/<str:code>", verify.verify, name="verify-typed"),
]
