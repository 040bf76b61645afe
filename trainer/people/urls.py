"""Addresses of people: sign-in (a closed list of the sign-in library's own), cards, people, crews, roster."""

from allauth.account import views as sign_in
from allauth.mfa.base import views as two_step
from allauth.mfa.recovery_codes import views as recovery
from allauth.mfa.totp import views as totp
from allauth.mfa.webauthn import views as passkeys
from django.urls import URLPattern, URLResolver, path, re_path

from trainer.people.access import not_by_card
from trainer.people.views import cards, company, crews, own, people, roster

# Registration, changing the address and signing in by a mailed code are left out: the office adds people.
SIGN_IN: list[URLPattern] = [
    path("account/login/", sign_in.login, name="account_login"),
    path("account/logout/", sign_in.logout, name="account_logout"),
    path("account/inactive/", sign_in.account_inactive, name="account_inactive"),
    path("account/reauthenticate/", not_by_card(sign_in.reauthenticate), name="account_reauthenticate"),
    path("account/password/change/", not_by_card(sign_in.password_change), name="account_change_password"),
    path("account/password/reset/", sign_in.password_reset, name="account_reset_password"),
    path("account/password/reset/done/", sign_in.password_reset_done, name="account_reset_password_done"),
    path(
        "account/password/reset/key/done/",
        sign_in.password_reset_from_key_done,
        name="account_reset_password_from_key_done",
    ),
    re_path(  # the key holds hyphens of its own
        r"^account/password/reset/key/(?P<uidb36>[0-9A-Za-z]+)-(?P<key>[^/]+)/$",
        sign_in.password_reset_from_key,
        name="account_reset_password_from_key",
    ),
    path("account/two-step/", not_by_card(two_step.index), name="mfa_index"),
    path("account/two-step/code/", two_step.authenticate, name="mfa_authenticate"),
    path("account/two-step/again/", not_by_card(two_step.reauthenticate), name="mfa_reauthenticate"),
    path("account/two-step/app/", not_by_card(totp.activate_totp), name="mfa_activate_totp"),
    path("account/two-step/app/end/", not_by_card(totp.deactivate_totp), name="mfa_deactivate_totp"),
    path("account/two-step/recovery/", not_by_card(recovery.view_recovery_codes), name="mfa_view_recovery_codes"),
    path(
        "account/two-step/recovery/new/",
        not_by_card(recovery.generate_recovery_codes),
        name="mfa_generate_recovery_codes",
    ),
    path(
        "account/two-step/recovery/file/",
        not_by_card(recovery.download_recovery_codes),
        name="mfa_download_recovery_codes",
    ),
    path("account/passkeys/", not_by_card(passkeys.list_webauthn), name="mfa_list_webauthn"),
    path("account/passkeys/new/", not_by_card(passkeys.add_webauthn), name="mfa_add_webauthn"),
    path("account/passkeys/sign-in/", passkeys.login_webauthn, name="mfa_login_webauthn"),
    path(
        "account/passkeys/again/",
        not_by_card(passkeys.reauthenticate_webauthn),
        name="mfa_reauthenticate_webauthn",
    ),
    path("account/passkeys/<int:pk>/", not_by_card(passkeys.edit_webauthn), name="mfa_edit_webauthn"),
    path("account/passkeys/<int:pk>/end/", not_by_card(passkeys.remove_webauthn), name="mfa_remove_webauthn"),
]

urlpatterns: list[URLPattern | URLResolver] = [
    *SIGN_IN,
    path("language/", own.language, name="language"),
    path("card/<str:token>/", own.card, name="card"),
    path("settings/", own.my_settings, name="my-settings"),
    path("settings/company/", own.company_choice, name="company-choice"),
    path("settings/places/<uuid:ref>/", own.place_answer, name="place-answer"),
    path("c/<slug:company>/settings/", company.company_settings, name="company-settings"),
    path("c/<slug:company>/people/", people.people, name="people"),
    path("c/<slug:company>/people/new/", people.person_new, name="person-new"),
    path("c/<slug:company>/people/<uuid:ref>/", people.person, name="person"),
    path("c/<slug:company>/people/<uuid:ref>/roles/", people.person_roles, name="person-roles"),
    path("c/<slug:company>/people/<uuid:ref>/end/", people.person_end, name="person-end"),
    path("c/<slug:company>/people/<uuid:ref>/crew/", people.person_crew, name="person-crew"),
    path("c/<slug:company>/people/<uuid:ref>/card/", cards.card_new, name="card-new"),
    path("c/<slug:company>/crews/", crews.crews, name="crews"),
    path("c/<slug:company>/crews/new/", crews.crew_new, name="crew-new"),
    path("c/<slug:company>/crews/<uuid:ref>/", crews.crew, name="crew"),
    path("c/<slug:company>/cards/", cards.cards, name="cards"),
    path("c/<slug:company>/cards/<uuid:ref>/end/", cards.card_end, name="card-end"),
    path("c/<slug:company>/roster/", roster.roster, name="roster"),
]
