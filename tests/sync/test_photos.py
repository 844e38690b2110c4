"""Photos: what comes in is never what goes out."""

from __future__ import annotations

import hashlib
import io
import resource
import zlib
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from PIL import Image
from werkzeug.test import TestResponse

Join = Callable[..., Any]
JPEG = "image/jpeg"


def picture(kind: str = "JPEG", size: tuple[int, int] = (60, 40), mode: str = "RGB", **more: Any) -> bytes:
    out = io.BytesIO()
    Image.new(mode, size, "red").save(out, kind, **more)
    return out.getvalue()


def put(client: FlaskClient, who: Any, data: bytes, mime: str = JPEG, name: str = "") -> TestResponse:
    name = name or hashlib.sha256(data).hexdigest()
    return client.put(f"/api/photos/{name}", data=data, headers=who.headers | {"Content-Type": mime})


def get(client: FlaskClient, who: Any, data: bytes) -> TestResponse:
    return client.get(f"/api/photos/{hashlib.sha256(data).hexdigest()}", headers=who.headers, buffered=True)


@pytest.mark.parametrize(("kind", "mime"), [("JPEG", JPEG), ("PNG", "image/png"), ("WEBP", "image/webp")])
def test_a_photo_comes_back_as_a_jpeg_under_the_name_it_was_sent_by(
    client: FlaskClient, join: Join, kind: str, mime: str
) -> None:
    ana, luis, data = join("crew"), join("crew"), picture(kind)
    assert put(client, ana, data, mime).status_code == 201
    assert put(client, ana, data, mime).status_code == 200
    got = get(client, luis, data)
    assert got.mimetype == JPEG
    assert "immutable" in got.headers["Cache-Control"]
    with Image.open(io.BytesIO(got.data)) as image:
        assert (image.format, image.size) == ("JPEG", (60, 40))


def test_place_camera_and_comments_are_gone_and_the_picture_stands_upright(
    client: FlaskClient, join: Join
) -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # turned a quarter
    exif[0x010F] = "SECRETCAMERA"
    exif.get_ifd(0x8825)[2] = (41.0, 15.0, 0.0)
    data = picture(exif=exif, comment=b"SECRETCOMMENT", icc_profile=b"SECRETPROFILE")
    ana = join("crew")
    assert put(client, ana, data).status_code == 201
    got = get(client, ana, data).data
    assert b"SECRET" in data
    assert b"SECRET" not in got
    with Image.open(io.BytesIO(got)) as image:
        assert image.size == (40, 60)
        assert dict(image.getexif()) == {}


def test_a_see_through_picture_is_laid_on_white(client: FlaskClient, join: Join) -> None:
    out = io.BytesIO()
    Image.new("RGBA", (20, 20), (255, 0, 0, 0)).save(out, "PNG")
    ana = join("crew")
    put(client, ana, out.getvalue(), "image/png")
    with Image.open(io.BytesIO(get(client, ana, out.getvalue()).data)) as image:
        assert image.getpixel((10, 10)) == (255, 255, 255)


def test_a_large_photo_is_made_smaller(client: FlaskClient, join: Join) -> None:
    ana, data = join("crew"), picture(size=(6000, 4000))
    put(client, ana, data)
    with Image.open(io.BytesIO(get(client, ana, data).data)) as image:
        assert image.size == (4096, 2731)


def flood(width: int, height: int) -> bytes:
    """A PNG of a few bytes that says it has `width` × `height` pixels."""

    def chunk(name: bytes, body: bytes) -> bytes:
        return len(body).to_bytes(4, "big") + name + body + zlib.crc32(name + body).to_bytes(4, "big")

    head = width.to_bytes(4, "big") + height.to_bytes(4, "big") + bytes([8, 2, 0, 0, 0])
    rows = zlib.compress(b"\0" * 100_000)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def hostile() -> dict[str, bytes]:
    good, animated = picture(), io.BytesIO()
    Image.new("P", (9, 9)).save(animated, "GIF")
    return {
        "nothing": b"",
        "one byte": b"\xff",
        "svg": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        "html": b"<!doctype html><script>alert(1)</script>",
        "gif": animated.getvalue(),
        "bmp": picture("BMP"),
        "tiff": picture("TIFF"),
        "ico": picture("ICO"),
        "heic head": b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + b"\0" * 200,
        "pdf": b"%PDF-1.7\n%%EOF",
        "eps": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n",
        "zip": b"PK\x03\x04" + b"\0" * 60,
        "gzip bomb": zlib.compress(b"\0" * 5_000_000),
        "jpeg cut": picture(size=(800, 800))[:-600],
        "jpeg head only": good[:20],
        "jpeg noise": good[:30] + bytes(range(256)) * 8,
        "png cut": picture("PNG")[:40],
        "png flood": flood(30_000, 30_000),
        "png wide flood": flood(60_000, 1_000),
        "png beyond": flood(2**31 - 1, 2**31 - 1),
        "webp cut": picture("WEBP")[:25],
        "riff": b"RIFF\xff\xff\xff\xffWEBPVP8 \xff\xff\xff\xff",
    }


@pytest.mark.parametrize("name", hostile())
@pytest.mark.parametrize("mime", [JPEG, "image/png"])
def test_a_hostile_file_is_refused_and_nothing_is_kept(
    app: Flask, client: FlaskClient, join: Join, name: str, mime: str
) -> None:
    response = put(client, join("crew"), hostile()[name], mime)
    assert response.status_code == 422, name
    assert response.get_json()["error"]["code"] == "picture_refused"
    folder = app.extensions["slabtide.config"].photo_dir
    assert [file for file in folder.rglob("*") if file.is_file()] == []


def test_a_second_file_glued_to_a_photo_is_not_kept(client: FlaskClient, join: Join) -> None:
    data, ana = picture() + b"<script>alert(1)</script>PK\x03\x04", join("crew")
    assert put(client, ana, data).status_code == 201
    assert b"script" not in get(client, ana, data).data


def test_floods_of_pixels_take_little_memory(client: FlaskClient, join: Join) -> None:
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    ana = join("crew")
    for size in ((30_000, 30_000), (20_000, 20_000), (9_000, 9_000)):
        put(client, ana, flood(*size), "image/png")
    grown_mb = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
    assert grown_mb < 100


@pytest.mark.parametrize("mime", ["image/svg+xml", "image/heic", "text/html", "application/json", ""])
def test_other_kinds_of_content_are_refused_by_their_label(
    client: FlaskClient, join: Join, mime: str
) -> None:
    assert put(client, join("crew"), picture(), mime).status_code == 422


def test_bytes_that_do_not_match_their_name_are_refused(client: FlaskClient, join: Join) -> None:
    ana = join("crew")
    for name in ("0" * 64, "x", hashlib.sha256(picture()).hexdigest().upper()):
        response = put(client, ana, picture(), name=name)
        assert response.get_json()["error"]["code"] == "photo_name"


@pytest.mark.parametrize("name", ["..%2f..%2fslabtide.db", "%2e%2e", "a%00b", "..\\..\\slabtide.db"])
def test_a_name_that_climbs_reaches_nothing(client: FlaskClient, join: Join, name: str) -> None:
    ana = join("crew")
    assert client.get(f"/api/photos/{name}", headers=ana.headers).status_code == 404
    assert client.put(f"/api/photos/{name}", data=picture(), headers=ana.headers).status_code in (
        400,
        405,
        422,
    )


def test_more_than_twelve_megabytes_are_refused(client: FlaskClient, join: Join) -> None:
    response = put(client, join("crew"), picture() + b"\0" * 12 * 1024 * 1024)
    assert response.status_code == 413
    assert response.get_json()["error"]["code"] == "too_large"


def test_another_company_can_not_see_the_photo(app: Flask, client: FlaskClient, join: Join) -> None:
    from slabtide.people.companies import create_company

    with app.app_context():
        other = create_company("Someone Else")
    data = picture()
    put(client, join("crew"), data)
    assert get(client, join("foreman", company=other), data).status_code == 404


def test_a_photo_whose_file_was_lost_is_taken_again(app: Flask, client: FlaskClient, join: Join) -> None:
    ana, data = join("crew"), picture()
    put(client, ana, data)
    for file in app.extensions["slabtide.config"].photo_dir.rglob("*.jpg"):
        file.unlink()
    assert get(client, ana, data).status_code == 404
    assert put(client, ana, data).status_code == 201
    assert get(client, ana, data).status_code == 200
