"""A company's own pictures: made anew without their data, kept to the company, shown where the content has a place."""

import random
import re
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from tests.library.photo import ALT, PLACE, add_photo, picture
from trainer.base.append_only import AppendOnlyError
from trainer.base.errors import Refused
from trainer.base.models import ErasureOrder, JournalEntry, Sealed
from trainer.library import queries, rendering
from trainer.library import services as services_adopt
from trainer.library.models import Photo
from trainer.library.photographs import pictures, services
from trainer.library.photographs import queries as photographs

pytestmark = pytest.mark.django_db


def _size(file: BytesIO) -> int:
    return file.getbuffer().nbytes


def test_it_takes_place_camera_and_date_out_of_a_picture():
    """Nothing but pixels is kept, and the picture stands upright as it was taken."""
    file = picture(640, 480, located=True)
    assert Image.open(file).getexif().get_ifd(0x8825), "the test's own picture has a place"

    made = pictures.remake(file, _size(file))

    opened = Image.open(BytesIO(made.body))
    assert opened.format == "JPEG"
    assert not dict(opened.getexif())
    assert not {"exif", "xmp", "icc_profile", "comment"} & set(opened.info)
    assert b"A camera" not in made.body
    assert (made.width, made.height) == opened.size == (480, 640)
    red, _, blue = opened.getpixel((240, 100))  # orientation 6: what was left is on top
    assert red > 200
    assert blue < 60


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_it_makes_large_pictures_smaller(kind):
    """The longest side is 1280 dots at most, the other one in proportion."""
    file = picture(3000, 1500, kind)

    made = pictures.remake(file, _size(file))

    assert (made.width, made.height) == (1280, 640)


def test_it_puts_what_is_see_through_on_white():
    """A picture with clear parts gets a white ground, not a black one."""
    file = BytesIO()
    Image.new("RGBA", (300, 300), (0, 0, 0, 0)).save(file, "PNG")

    made = pictures.remake(file, _size(file))

    assert Image.open(BytesIO(made.body)).getpixel((150, 150)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "no picture"),
        (b"not a picture", "no picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", "no picture"),
        (b"GIF89a" + b"\0" * 100, "no picture"),
        (picture().getvalue()[:2000], "no picture"),
        (picture(150, 900).getvalue(), "only 150 by 900"),
    ],
    ids=["empty", "text", "svg", "gif", "cut off", "too small"],
)
def test_it_refuses_what_is_no_picture(content, said):
    """What cannot be shown is refused with a sentence, whatever its name says."""
    with pytest.raises(Refused, match=said) as refused:
        pictures.remake(BytesIO(content), len(content))

    assert refused.value.field == "file"


def test_it_refuses_a_file_that_is_too_large_before_reading_it():
    """The limit is on what was sent."""
    with pytest.raises(Refused, match="12 is the most"):
        pictures.remake(BytesIO(b""), pictures.MOST_BYTES + 1)


def test_it_refuses_a_picture_that_would_fill_the_memory(monkeypatch):
    """A small file can unpack to more dots than can be worked with; its size is read before its dots."""
    monkeypatch.setattr(pictures, "MOST_PIXELS", 100_000)
    file = picture(640, 480)

    with pytest.raises(Refused, match="640 by 480"):
        pictures.remake(file, _size(file))


def test_it_never_fails_otherwise_on_broken_files():
    """Hundreds of damaged pictures are made or refused, never an error page."""
    chance = random.Random(7)
    whole = {kind: picture(300, 200, kind).getvalue() for kind in ("JPEG", "PNG", "WEBP")}
    for _ in range(300):
        body = bytearray(whole[chance.choice(sorted(whole))])
        for _ in range(chance.randrange(1, 12)):
            body[chance.randrange(len(body))] = chance.randrange(256)
        try:
            made = pictures.remake(BytesIO(bytes(body)), len(body))
        except Refused:
            continue
        assert made.body.startswith(b"\xff\xd8")


def test_it_shows_a_picture_where_the_lesson_has_a_place(company, other_company, version, revision, trainer):
    """The company's own picture stands in its lesson in both languages; without one nothing is left."""
    before = rendering.render_lesson(version, revision, "en", company).html
    photo = add_photo(company, trainer.account, anchor="not-acceptable")

    english, spanish = (rendering.render_lesson(version, revision, language, company).html for language in ("en", "es"))

    assert "<img" not in before
    assert "place" not in re.sub(r"<[^>]+>", "", before)
    assert f'src="/c/own/photos/{photo.ref}/picture/"' in english
    assert f'alt="{ALT["en"]}"' in english
    assert "Not acceptable." in english
    assert "No aceptable." in spanish
    assert ALT["es"] in spanish
    assert "<img" not in rendering.render_lesson(version, revision, "en", other_company).html
    assert rendering.render_lesson(version, revision, "en").html == before


def test_it_escapes_what_people_write_about_a_picture(company, version, revision, trainer):
    """The words under a picture are text, whatever they hold."""
    file = picture()
    nasty = '"><script>alert(1)</script>'
    services.add_photo(
        company=company, place=PLACE, anchor="plain", alt={"en": nasty, "es": nasty}, file=file, size=_size(file),
        by=trainer.account,
    )  # fmt: skip

    html = rendering.render_lesson(version, revision, "en", company).html

    assert "<script" not in html
    assert "&quot;&gt;&lt;script&gt;" in html


def test_it_shows_the_newest_of_each_kind(company, version, trainer):
    """A new picture takes over from the one of its kind; good and bad work stand side by side, good first."""
    add_photo(company, trainer.account, anchor="not-acceptable")
    good = add_photo(company, trainer.account, anchor="acceptable")
    bad = add_photo(company, trainer.account, anchor="not-acceptable")

    assert photographs.photos_at(company, {PLACE}) == {PLACE: [good, bad]}


def test_it_takes_a_picture_away(company, version, trainer):
    """A picture that was taken away is shown no more; its row stays."""
    photo = add_photo(company, trainer.account)
    services.end_photo(photo=photo, by=trainer.account)
    services.end_photo(photo=photo, by=trainer.account)

    assert photographs.photos_at(company, {PLACE}) == {}
    assert Photo.objects.count() == 1
    assert [line.verb for line in JournalEntry.objects.filter(verb__startswith="photo")] == [
        "photo-added",
        "photo-ended",
    ]
    with pytest.raises(AppendOnlyError):
        Photo.objects.update(place="other")


def test_it_lets_a_picture_be_erased(company, version, revision, trainer, sign_in):
    """Under an erasure order the picture goes, and the lesson's page still opens; the picture's address is 404."""
    photo = add_photo(company, trainer.account)
    address = f"/c/own/photos/{photo.ref}/picture/"
    client = sign_in(trainer)
    assert client.get(address).content.startswith(b"\xff\xd8")

    ErasureOrder.objects.create(subject=trainer.account.ref, ordered_by=trainer.account.ref, reason_code="request")
    Sealed.objects.filter(digest=photo.picture).erase()

    assert client.get(address).status_code == 404


@pytest.mark.parametrize(
    ("changed", "field"),
    [({"place": "nowhere"}, "place"), ({"alt": {"en": "x", "es": " "}}, "alt_es"), ({"alt": {"es": "x"}}, "alt_en")],
)
def test_it_refuses_a_picture_without_place_or_words(changed, field, company, version, trainer):
    """A picture needs a place of the content and both languages' words."""
    file = picture()
    given = {"place": PLACE, "anchor": "plain", "alt": ALT, "file": file, "size": _size(file)} | changed

    with pytest.raises(Refused) as refused:
        services.add_photo(company=company, by=trainer.account, **given)

    assert refused.value.field == field
    assert not Photo.objects.exists()


def test_it_is_added_and_taken_away_on_pages(company, version, trainer, sign_in):
    """The trainer chooses a place, sends the file, sees it in the list, and takes it away."""
    client = sign_in(trainer)
    assert PLACE in client.get("/c/own/photos/").content.decode()
    sent = {"place": PLACE, "anchor": "acceptable", "alt_en": "A lap", "alt_es": "Un traslape"}
    file = SimpleUploadedFile("a.png", picture(kind="PNG").getvalue(), "image/png")

    response = client.post("/c/own/photos/add/", {**sent, "file": file})

    assert response.status_code == 302
    photo = Photo.objects.get()
    page = client.get("/c/own/photos/").content.decode()
    assert f"/c/own/photos/{photo.ref}/picture/" in page
    assert "Un traslape" in page
    assert client.get(f"/c/own/photos/{photo.ref}/picture/")["Content-Type"] == "image/jpeg"
    client.post(f"/c/own/photos/{photo.ref}/end/")
    assert client.get(f"/c/own/photos/{photo.ref}/picture/").status_code == 404


def test_its_list_shows_the_figures_of_the_lessons(company, version, trainer, sign_in, django_assert_max_num_queries):
    """The same figure as in the lesson, the other language's words below, in a bounded number of queries."""
    photos = [
        add_photo(company, trainer.account, anchor=anchor) for anchor in ("plain", "acceptable", "not-acceptable")
    ]
    client = sign_in(trainer)

    with django_assert_max_num_queries(15):
        page = client.get("/c/own/photos/").content.decode()

    for photo in photos:
        assert str(rendering.photo_figure(photo, "en")) in page
    assert page.count("<figure") == len(photos)
    assert page.count(f'<p class="small" lang="es">{ALT["es"]}</p>') == len(photos)


def test_it_keeps_what_was_written_beside_a_bad_file(company, version, trainer, sign_in):
    """A refused file is told beside its field; the words are still there."""
    sent = {"place": PLACE, "anchor": "plain", "alt_en": "A lap here", "alt_es": "Un traslape"}
    file = SimpleUploadedFile("a.jpg", b"no picture at all", "image/jpeg")

    response = sign_in(trainer).post("/c/own/photos/add/", {**sent, "file": file})

    html = response.content.decode()
    assert response.status_code == 422
    assert "no picture that can be read" in html
    assert "A lap here" in html


def test_it_shows_a_trainee_only_the_own_companys_pictures(company, version, trainer, trainee, outsider, sign_in):
    """A trainee of the company sees the picture; somebody of another company gets 404."""
    photo = add_photo(company, trainer.account)
    address = f"/c/own/photos/{photo.ref}/picture/"

    assert sign_in(trainee).get(address).status_code == 200
    assert sign_in(outsider).get(address).status_code == 404
    assert queries.current_module("small-laps") is not None


def test_it_stands_with_a_question_that_has_a_place(company, version, revision, trainer, sign_in):
    """A picture without a mark stands with the stem; one of good or bad work would answer the question."""
    question = queries.question("small-laps/readings", version)
    add_photo(company, trainer.account, anchor="acceptable")
    assert photographs.photos_for(company, question) == []

    plain = add_photo(company, trainer.account)

    (kept,) = photographs.photos_for(company, question)
    assert (kept["ref"], kept["picture"], kept["alt"]) == (str(plain.ref), plain.picture, ALT)
    services_adopt.adopt_specification(company=company, revision=revision, on=company.today())
    page = sign_in(trainer).get("/c/own/modules/small-laps/questions/readings/", {"language": "es"}).content.decode()
    assert f"/c/own/photos/{plain.ref}/picture/" in page
    assert ALT["es"] in page
    assert photographs.photos_for(company, queries.question("small-laps/exposure", version)) == []
