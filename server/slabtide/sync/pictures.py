"""Pictures from outside, made safe: opened as one of three formats, turned upright, written anew as JPEG.

What is stored is always our own encoder's output, so nothing that came in (a script, a place, a second file
glued to the end) goes out again.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass
from http import HTTPStatus
from io import BytesIO

from PIL import Image, ImageOps, UnidentifiedImageError

from slabtide.errors import AppError

FORMATS = {"image/jpeg": "JPEG", "image/png": "PNG", "image/webp": "WEBP"}
MOST_PIXELS = 40_000_000
LONGEST_SIDE = 4096
QUALITY = 85
# One picture of 40 million pixels takes 160 MB while it is open; one at a time keeps that the peak.
_one_at_a_time = threading.Lock()


class PictureRefusedError(AppError):
    """The bytes are no picture we take."""

    code = "picture_refused"
    status = HTTPStatus.UNPROCESSABLE_ENTITY

    def __init__(self, message: str) -> None:
        super().__init__(message, "Take the photo again, or choose a JPEG, PNG or WebP picture.")


@dataclass(frozen=True, slots=True)
class Picture:
    """A JPEG of our own making; width and height in pixels."""

    jpeg: bytes
    width: int
    height: int


def remake(data: bytes) -> Picture:
    """`data` (JPEG, PNG or WebP) as an upright JPEG of at most 4096 pixels a side, without metadata.

    Raises `PictureRefusedError` for anything else, for damage and for more than 40 million pixels.
    """
    with _one_at_a_time:
        try:
            return _remade(data)
        except PictureRefusedError:
            raise
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            raise PictureRefusedError("The picture has too many pixels.") from None
        except UnidentifiedImageError:
            raise PictureRefusedError("This is not a JPEG, PNG or WebP picture.") from None
        except (OSError, SyntaxError, ValueError, EOFError, MemoryError, OverflowError):
            # What Pillow's decoders raise on damaged data.
            raise PictureRefusedError("The picture is damaged.") from None


def _remade(data: bytes) -> Picture:
    with Image.open(BytesIO(data), formats=tuple(FORMATS.values())) as image:
        if image.width * image.height > MOST_PIXELS:
            raise PictureRefusedError(f"The picture has {image.width} × {image.height} pixels: too many.")
        image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        image.load()
        upright = ImageOps.exif_transpose(image)
        upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
        plain = _on_white(upright)
        out = BytesIO()
        plain.save(out, "JPEG", quality=QUALITY, optimize=True)
        return Picture(out.getvalue(), plain.width, plain.height)


def _on_white(image: Image.Image) -> Image.Image:
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        layered = image.convert("RGBA")
        ground = Image.new("RGB", layered.size, "white")
        ground.paste(layered, mask=layered.getchannel("A"))
        return ground
    plain = image.convert("RGB")
    # A fresh image carries no EXIF, no colour profile, no comment for the encoder to write out again.
    plain.info.clear()
    return plain
