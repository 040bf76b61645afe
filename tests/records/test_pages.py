"""The pages of records: a person's own, staff's, the register, qualifications, and the page for strangers."""

from collections.abc import Callable
from datetime import date
from io import BytesIO

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader

from tests import factories
from tests.records import scene
from tests.records.test_issue import define
from trainer.base import clock
from trainer.base.models import ErasureOrder, Sealed
from trainer.people.access import Member
from trainer.people.models import Company, Role
from trainer.records import limits, services
from trainer.records.models import (
    CompletionRecord,
    Qualification,
    QualificationDefinition,
    RecordRevocation,
    RegisterHead,
)

DAY = date(2026, 1, 31)
SignIn = Callable[[Member], Client]


@pytest.fixture(autouse=True)
def _day() -> object:
    """Let every page be opened at noon of March 1, 2026."""
    with clock.fixed(scene.at(date(2026, 3, 1))):
        yield


def staff(name: str, company: Company, **kwargs: object) -> str:
    """Give the address of a staff page."""
    return reverse(name, kwargs={"company": company.slug, **kwargs})


# -------------------------------------------------------------------------------------------------------------- own
def test_it_lists_the_own_records_with_states(trainee: Member, sign_in: SignIn) -> None:
    """A record that ends within the company's notice lapses soon; the others are current or lapsed."""
    scene.record(trainee, day=DAY)
    scene.record(trainee, "edge-metal", day=DAY, months=2)
    scene.record(trainee, "roof-deck", day=DAY, months=1)

    html = sign_in(trainee).get(reverse("my-record")).content.decode()

    assert html.index("Base sheet layout and laps") > html.index("Edge metal") > 0
    for words in ("current", "lapses soon", "lapsed"):
        assert f"</span>{words}</span>" in html
    assert "Valid until January 31, 2028" in html


def test_it_shows_nobody_elses_record_as_ones_own(trainee: Member, company: Company, sign_in: SignIn) -> None:
    """A trainee gets no page and no paper of another person's record."""
    record = scene.record(factories.member(company), day=DAY)
    client = sign_in(trainee)

    for name in ("own-record", "own-record-pdf"):
        assert client.get(reverse(name, kwargs={"ref": record.ref})).status_code == 404


def test_it_shows_the_record_as_a_sheet_in_spanish(company: Company, sign_in: SignIn) -> None:
    """The page has every line of the record in the reader's language."""
    hand = factories.member(company, name="José Ángel Núñez", language="es-us")
    record = scene.record(hand, day=DAY)

    html = sign_in(hand).get(reverse("own-record", kwargs={"ref": record.ref})).content.decode()

    assert "José Ángel Núñez" in html
    assert "Finalización de Trazado de la hoja base y traslapes; no es una certificación de seguridad." in html
    assert "31 de enero de 2028" in html
    assert record.document.digest in html


# ------------------------------------------------------------------------------------------------------------ staff
def test_it_lets_a_foreman_see_only_the_own_crews_records(
    foreman: Member, trainee: Member, company: Company, sign_in: SignIn
) -> None:
    """A record of the crew opens; one of another crew does not exist for the foreman."""
    client = sign_in(foreman)
    own = scene.record(trainee, day=DAY)
    other = scene.record(factories.member(company), day=DAY)

    assert client.get(staff("record", company, ref=own.ref)).status_code == 200
    assert client.get(staff("record", company, ref=other.ref)).status_code == 404
    assert client.get(staff("revocation", company, ref=own.ref)).status_code == 404


def test_it_revokes_by_form_and_says_so_everywhere(
    office: Member, trainee: Member, company: Company, sign_in: SignIn
) -> None:
    """The office revokes; record page, own page and strangers' page say revoked."""
    record = scene.record(trainee, day=DAY)
    client = sign_in(office)
    address = staff("revocation", company, ref=record.ref)

    refused = client.post(address, {"reason_code": "other", "reason": ""}).content.decode()
    assert "Say in a few words why the record is revoked." in refused
    answer = client.post(address, {"reason_code": "work-shows-a-gap", "reason": "Open laps."})

    assert answer.status_code == 302
    assert RecordRevocation.objects.get().record == record
    assert "Open laps." in client.get(staff("record", company, ref=record.ref)).content.decode()
    html = Client().get(reverse("verify", kwargs={"code": record.code})).content.decode()
    assert "Revoked from March 1, 2026 on: the work on a roof shows a gap." in html
    assert "Open laps." not in html


def test_it_shows_the_register_with_head_and_search(
    office: Member, trainee: Member, company: Company, sign_in: SignIn
) -> None:
    """The newest entry first; a serial finds its entries."""
    first = scene.record(trainee, day=DAY)
    second = scene.record(trainee, "edge-metal", day=DAY)
    client = sign_in(office)

    html = client.get(staff("register", company)).content.decode()
    assert html.index(second.serial) < html.index(first.serial)
    assert RegisterHead.objects.get(company=company).root in html
    found = client.get(staff("register", company), {"search": first.serial}).content.decode()
    assert first.serial in found
    assert second.serial not in found


def test_it_reads_the_register_in_as_many_queries_for_one_entry_as_for_many(
    office: Member, company: Company, sign_in: SignIn
) -> None:
    """A long register costs no more queries than a short one."""
    client = sign_in(office)
    counts = []
    for _round in range(2):
        for _hand in range(3):
            scene.record(factories.member(company), day=DAY)
        with CaptureQueriesContext(connection) as captured:
            client.get(staff("register", company))
        counts.append(len(captured))

    assert counts[0] == counts[1]


# --------------------------------------------------------------------------------------------------- qualifications
def test_it_defines_a_qualification_by_form(office: Member, company: Company, sign_in: SignIn) -> None:
    """A new qualification needs both titles and a module; it appears in the list."""
    scene.module("base-sheet-layout")
    client = sign_in(office)
    address = staff("qualification-new", company)
    entries = {"title_en": "Two-ply hand", "title_es": "", "valid_months": "", "effective_from": "2026-03-01"}

    assert "title_es" in client.post(address, entries).context["form"].errors
    entries["title_es"] = "Operario de dos capas"
    assert "modules" in client.post(address, entries).context["form"].errors
    answer = client.post(address, entries | {"modules": ["base-sheet-layout"]})

    assert answer.status_code == 302
    assert QualificationDefinition.objects.get().modules == "base-sheet-layout"
    assert "Two-ply hand" in client.get(staff("qualifications", company)).content.decode()


def test_it_issues_by_button_to_those_who_hold_all(
    trainer: Member, trainee: Member, company: Company, sign_in: SignIn
) -> None:
    """The button stands only beside people who hold every module, and issues once."""
    qualification = define(company)
    half = factories.member(company, name="Half Way")
    scene.record(half, day=DAY)
    scene.record(trainee, day=DAY)
    scene.record(trainee, "edge-metal", day=DAY)
    client = sign_in(trainer)

    html = client.get(staff("qualification", company, ref=qualification.ref)).content.decode()
    assert html.count('name="person"') == 1
    assert "Half Way" in html
    answer = client.post(
        staff("qualification-issue", company, ref=qualification.ref), {"person": str(trainee.account.ref)}
    )

    record = CompletionRecord.objects.get(kind="qualification")
    assert answer["Location"] == staff("record", company, ref=record.ref)
    assert "Edge metal, record" in client.get(answer["Location"]).content.decode()
    assert 'name="person"' not in client.get(staff("qualification", company, ref=qualification.ref)).content.decode()
    again = client.post(
        staff("qualification-issue", company, ref=qualification.ref), {"person": str(half.account.ref)}, follow=True
    )
    assert "Not held on this day: Edge metal." in again.content.decode()


def test_it_keeps_qualifications_of_another_company_out_of_reach(
    outsider: Member, company: Company, sign_in: SignIn
) -> None:
    """Another company's office finds no such qualification, under either company's address."""
    qualification: Qualification = define(company)
    client = sign_in(outsider)

    for at_company in (company, outsider.company):
        assert client.get(staff("qualification", at_company, ref=qualification.ref)).status_code == 404


# -------------------------------------------------------------------------------------------------------- strangers
@pytest.mark.parametrize("typed", ["{0}", "{1}", "{2}"])
def test_it_reads_a_code_as_people_type_it(trainee: Member, typed: str) -> None:
    """Small letters, spaces and hyphens all lead to the record; the lookup form sends on to its page."""
    code = scene.record(trainee, day=DAY).code
    spaced = f"{code[:4]} {code[4:8]} {code[8:]}".lower()
    text = typed.format(code.lower(), spaced, spaced.replace(" ", "-"))

    answer = Client().get(reverse("verify-lookup"), {"code": text}, follow=True)

    assert answer.redirect_chain[-1][0] == f"/V/{code}"
    assert trainee.account.name in answer.content.decode()
    assert Client().get(f"/v/{code.lower()}").status_code == 200


@pytest.mark.parametrize("typed", ["a/b", "../../x", "AB\x00CD", "{}.", "%2F", "'\"><script>", "١٢٣٤", "x" * 5000])
def test_it_takes_anything_for_a_code(db: None, typed: str) -> None:
    """Whatever is typed is looked up or asked for again; nothing typed can break the page."""
    answer = Client().get(reverse("verify-lookup"), {"code": typed}, follow=True)

    assert answer.status_code in (200, 404)
    assert "<script>" not in answer.content.decode()


def test_it_tells_a_stranger_what_holds_and_nothing_of_the_score(trainee: Member) -> None:
    """Name, title, company, dates and verdict; no score, no sitting; no search engine keeps it."""
    record = scene.record(trainee, day=DAY)

    answer = Client().get(reverse("verify", kwargs={"code": record.code}))

    html = answer.content.decode()
    for text in ("Valid", trainee.account.name, "Base sheet layout and laps", "January 31, 2028", record.serial):
        assert text in html
    assert "not a safety certification" in html
    assert "9 of 10" not in html
    assert str(record.sitting.ref) not in html
    assert answer["X-Robots-Tag"] == "noindex, nofollow"


def test_it_says_lapsed_after_the_last_day(trainee: Member) -> None:
    """The last day is still valid, the next is not."""
    record = scene.record(trainee, day=DAY, months=1)
    address = reverse("verify", kwargs={"code": record.code})

    with clock.fixed(scene.at(date(2026, 2, 28))):
        assert '<p class="verdict">Valid</p>' in Client().get(address).content.decode()
    with clock.fixed(scene.at(date(2026, 3, 1))):
        assert '<p class="verdict">Lapsed</p>' in Client().get(address).content.decode()


def test_it_says_unknown_code(db: None) -> None:
    """A code that no record has is said to be unknown, with the field to try again."""
    answer = Client().get("/V/000000000000")

    assert answer.status_code == 404
    assert "Unknown code" in answer.content.decode()
    assert 'name="code"' in answer.content.decode()


def test_it_says_that_an_erased_name_was_erased(trainee: Member, office: Member) -> None:
    """The record still verifies when the name is gone."""
    record = scene.record(trainee, day=DAY)
    ErasureOrder.objects.create(subject=trainee.account.ref, ordered_by=office.account.ref, reason_code="asked")
    Sealed.objects.filter(subject=trainee.account.ref).erase()

    html = Client().get(reverse("verify", kwargs={"code": record.code})).content.decode()

    assert "name erased" in html
    assert trainee.account.name not in html


def test_it_makes_an_address_wait_after_many_lookups(db: None) -> None:
    """The look-up after the last one allowed in a minute is refused with a page; another address goes on."""
    client = Client()
    statuses = [client.get("/V/000000000000").status_code for _try in range(limits.LOOKUPS_A_MINUTE + 1)]

    assert statuses == [404] * limits.LOOKUPS_A_MINUTE + [429]
    assert Client(REMOTE_ADDR="203.0.113.9").get("/V/000000000000").status_code == 404
    with clock.fixed(scene.at(date(2026, 3, 2))):
        assert client.get("/V/000000000000").status_code == 404


# ------------------------------------------------------------------------------------------------------------ paper
def test_it_gives_the_record_on_paper(trainee: Member, sign_in: SignIn) -> None:
    """The PDF opens under its serial and holds the person's name."""
    record = scene.record(trainee, day=DAY)

    answer = sign_in(trainee).get(reverse("own-record-pdf", kwargs={"ref": record.ref}))

    assert answer["Content-Type"] == "application/pdf"
    assert f'filename="record-{record.serial}.pdf"' in answer["Content-Disposition"]
    assert trainee.account.name in PdfReader(BytesIO(answer.content)).pages[0].extract_text()


def test_it_refuses_paper_when_a_letter_cannot_be_printed(company: Company, sign_in: SignIn) -> None:
    """A page names the letter; no record with a hole in its name leaves the printer."""
    hand = factories.member(company, Role.TRAINEE, name="Lee 李")
    record = scene.record(hand, day=DAY)

    answer = sign_in(hand).get(reverse("own-record-pdf", kwargs={"ref": record.ref}))

    assert answer.status_code == 422
    assert "李" in answer.content.decode()


def test_it_shows_the_paper_of_a_revoked_record_as_revoked(trainee: Member, office: Member, sign_in: SignIn) -> None:
    """Paper printed after a revocation says so."""
    record = scene.record(trainee, day=DAY)
    services.revoke(record=record, by=office.account, reason_code="entered-in-error", reason="")

    answer = sign_in(office).get(staff("record-pdf", trainee.company, ref=record.ref))

    assert "Revoked from March 1, 2026 on" in PdfReader(BytesIO(answer.content)).pages[0].extract_text()
