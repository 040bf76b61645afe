"""Makes a picture safe to keep and to send: decoded, turned upright, made smaller, written anew without its data."""

from io import BytesIO
from typing import IO, Final, NamedTuple

from django.utils.translation import gettext as _
from PIL import Image, ImageOps, UnidentifiedImageError

from trainer.base.errors import Refused

MOST_BYTES: Final = 12 * 1024 * 1024
MOST_PIXELS: Final = 60_000_000
LEAST_SIDE: Final = 200
LONGEST_SIDE: Final = 1280
QUALITY: Final = 80
FORMATS: Final = ("JPEG", "PNG", "WEBP")


class Picture(NamedTuple):
    """A JPEG picture: its bytes, its width and height in pixels."""

    body: bytes
    width: int
    height: int


def remake(file: IO[bytes], size: int) -> Picture:
    """Give the picture in a file as a new JPEG of at most 1280 pixels a side.

    Nothing of the file but the pixels is kept: no place, no camera, no date, no second picture.

    Args:
        file: What was sent.
        size: Its length in bytes.

    Raises:
        Refused: It is too large, no JPEG, PNG or WebP picture, broken, or too small to see anything on.
    """
    if size > MOST_BYTES:
        raise Refused(
            _("This file has %(size)d MB, %(most)d is the most. Send a smaller picture.")
            % {"size": size // 1024 // 1024 + 1, "most": MOST_BYTES // 1024 // 1024},
            field="file",
        )
    try:
        opened = Image.open(file, formats=FORMATS)
        if opened.width * opened.height > MOST_PIXELS:
            raise Refused(
                _("This picture has %(width)d by %(height)d dots, too many to work with. Send a smaller one.")
                % {"width": opened.width, "height": opened.height},
                field="file",
            )
        opened.draft("RGB", (2 * LONGEST_SIDE, 2 * LONGEST_SIDE))
        upright = ImageOps.exif_transpose(opened)
        picture = _on_white(upright)
    except (UnidentifiedImageError, OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        raise Refused(
            _("This is no picture that can be read. Send a JPEG, PNG or WebP picture."), field="file"
        ) from error
    picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    if min(picture.size) < LEAST_SIDE:
        raise Refused(
            _("This picture is only %(width)d by %(height)d dots. Send one with at least %(least)d a side.")
            % {"width": picture.width, "height": picture.height, "least": LEAST_SIDE},
            field="file",
        )
    body = BytesIO()
    picture.save(body, "JPEG", quality=QUALITY, optimize=True)
    return Picture(body.getvalue(), picture.width, picture.height)


def _on_white(picture: Image.Image) -> Image.Image:
    """Give the pixels alone, what was see-through on white."""
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        clear = picture.convert("RGBA")
        white = Image.new("RGB", clear.size, "white")
        white.paste(clear, mask=clear.getchannel("A"))
        return white
    plain = Image.new("RGB", picture.size)
    plain.paste(picture.convert("RGB"))
    return plain
