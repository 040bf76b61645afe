"""A record on paper: what the PDF file holds, beside what its picture shows."""

import hashlib
import json
from datetime import date
from io import BytesIO

import pytest
import segno
from django.test import override_settings
from pypdf import PdfReader

from tests import factories
from tests.records import scene
from trainer.base import clock
from trainer.people.access import Member
from trainer.people.models import Company
from trainer.records import paper
from trainer.records.models import CompletionRecord
from trainer.records.showing import address_of
from trainer.training import services

DAY = date(2026, 1, 31)
# What lessons, names and records print beside plain letters: Spanish, fractions, feet and inches, signs of the trade.
SIGNS = "áéíóúüñÁÉÍÓÚÜÑ¿¡½¼¾⅛⅜⅝⅞′″≤≥±×°√✓–—“”’…ŁőțžĐĞ"


@pytest.fixture
def record(company: Company) -> CompletionRecord:
    """Give the record of somebody who reads Spanish, with accents in the name."""
    hand = factories.member(company, name="José Ángel Núñez-Villaseñor Ibáñez", language="es-us", number="A-1077")
    return scene.record(hand, day=DAY)


def read(record: CompletionRecord) -> PdfReader:
    """Open the record's PDF."""
    return PdfReader(BytesIO(paper.record_pdf(record)))


def test_it_prints_in_the_records_language(record: CompletionRecord) -> None:
    """Every line is in Spanish for a record earned in Spanish, on one letter sheet."""
    pdf = read(record)

    text = pdf.pages[0].extract_text()
    for words in (
        "José Ángel Núñez-Villaseñor Ibáñez",
        "Finalización de Trazado de la hoja base y traslapes; no es una certificación de seguridad.",
        "two-ply-self-adhered, revisión 2026",
        "9 de 10 preguntas correctas; para aprobar, 8",
        "31 de enero de 2028",
        "Firma del instructor o del empleador",
        record.serial,
        record.document.digest,
    ):
        assert words in text
    assert len(pdf.pages) == 1
    assert pdf.root_object["/Lang"] == "es-US"


def test_it_attaches_the_document_and_the_name_that_it_binds(record: CompletionRecord) -> None:
    """With the file alone somebody can work out the digest in the register, and that the name belongs to it."""
    attached = {name: content[0] for name, content in read(record).attachments.items()}

    assert hashlib.sha256(attached["record.json"]).hexdigest() == record.document.digest
    sealed = json.loads(attached["name.json"])
    bound = hashlib.sha256((sealed["salt"] + sealed["text"]).encode()).hexdigest()
    assert bound == json.loads(attached["record.json"])["person"]["printed"]
    assert json.loads(sealed["text"])["name"] == record.account.name


def test_it_is_built_as_pdf_a_3b(record: CompletionRecord) -> None:
    """The metadata say part 3, conformance B, and every font is embedded (ISO 19005-3; no validator at hand)."""
    pdf = read(record)

    packet = pdf.root_object["/Metadata"].get_object().get_data().decode()
    assert "<pdfaid:part>3</pdfaid:part>" in packet
    assert "<pdfaid:conformance>B</pdfaid:conformance>" in packet
    fonts = pdf.pages[0]["/Resources"]["/Font"]
    for font in fonts.values():
        described = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert "/FontFile2" in described
    assert pdf.root_object["/AF"]
    assert pdf.root_object["/OutputIntents"]


def test_it_gives_the_same_bytes_at_another_time(record: CompletionRecord) -> None:
    """The paper of a record does not change with the day it is printed."""
    first = paper.record_pdf(record)
    with clock.fixed(scene.at(date(2026, 2, 14))):
        again = paper.record_pdf(CompletionRecord.objects.get(pk=record.pk))

    assert first == again


def test_its_fonts_have_the_signs_of_the_trade() -> None:
    """Accents, fractions, primes and comparison signs can all be printed."""
    assert paper.printable(SIGNS) == SIGNS


def test_it_joins_accents_typed_apart() -> None:
    """A name typed as letter and accent prints as the one letter that the fonts have."""
    assert paper.printable("Jose\u0301") == "José"


def test_it_refuses_a_letter_that_the_fonts_lack() -> None:
    """The error names the letter and the text."""
    with pytest.raises(paper.UnprintableError, match=r"lack '李' \(U\+674E\), which stands in 'Lee 李'"):
        paper.printable("Lee 李")


@pytest.mark.parametrize(
    "name",
    ["W" * 120, "Maximiliano Guadalupe Hernández de la Concepción " * 2, "A"],
    ids=["one word", "words", "short"],
)
def test_it_keeps_any_name_on_one_sheet(company: Company, name: str) -> None:
    """The longest name that an account may have still leaves one page with its foot."""
    record = scene.record(factories.member(company, name=name[:120].strip()), day=DAY)

    pdf = read(record)

    assert len(pdf.pages) == 1
    assert record.document.digest in pdf.pages[0].extract_text()


@override_settings(ORIGIN="https://training.example")
def test_its_code_leads_to_the_page_in_capitals(record: CompletionRecord) -> None:
    """Capitals keep the QR code at version 3, 29 modules, at level Q (ISO/IEC 18004: 47 alphanumeric characters)."""
    address = address_of(record)

    assert address == f"HTTPS://TRAINING.EXAMPLE/V/{record.code}"
    assert segno.make_qr(address, error="q", boost_error=False).designator == "3-Q"


def test_it_names_the_trainer_under_the_signature_line(trainee: Member, trainer: Member) -> None:
    """Who assigned the module is printed where the trainer signs."""
    scene.module()
    with clock.fixed(scene.at(date(2026, 1, 5))):
        services.assign(
            company=trainee.company,
            module="base-sheet-layout",
            due=DAY,
            by=trainer.account,
            account=trainee.account,
        )
    text = read(scene.record(trainee, day=DAY)).pages[0].extract_text()

    assert text.count(trainer.account.name) == 2
