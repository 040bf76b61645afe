"""Pictures for tests, made on the spot."""

from io import BytesIO

from PIL import Image
from PIL.ExifTags import IFD, Base

from trainer.library.models import Photo
from trainer.library.photographs import services
from trainer.people.models import Account, Company

PLACE = "side-lap"
ALT = {"en": "A side lap with its tape", "es": "Un traslape lateral con su cinta"}


def picture(width: int = 640, height: int = 480, kind: str = "JPEG", *, located: bool = False) -> BytesIO:
    """Give a picture's file: left half red, right half blue; `located` writes a place and a camera into it."""
    made = Image.new("RGB", (width, height), "blue")
    made.paste("red", (0, 0, width // 2, height))
    exif = Image.Exif()
    if located:
        exif[Base.Make] = "A camera"
        exif[Base.Orientation] = 6  # turned a quarter
        exif.get_ifd(IFD.GPSInfo).update({1: "N", 2: (41.0, 52.0, 55.0), 3: "W", 4: (87.0, 37.0, 40.0)})
    file = BytesIO()
    made.save(file, kind, exif=exif)
    file.seek(0)
    return file


def add_photo(company: Company, by: Account, *, anchor: str = "plain", place: str = PLACE) -> Photo:
    """Add a picture to the small module's place."""
    file = picture()
    return services.add_photo(
        company=company, place=place, anchor=anchor, alt=ALT, file=file, size=file.getbuffer().nbytes, by=by
    )
