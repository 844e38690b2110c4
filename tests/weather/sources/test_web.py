"""One question, bounded in time, size and reach; whatever comes back is an answer or a reason in words."""

import gzip
import threading
import time
from datetime import timedelta

import pytest
from tests.weather.sources.conftest import Serve, web_for
from tests.weather.sources.service import Asked, at_noon, silent, trickling

from slabtide.weather.sources.contract import Marks, SourceError, UnreachableError
from slabtide.weather.sources.web import MOST_BYTES, Web

MB = 1024 * 1024


def why(web: Web, url: str) -> str:
    with pytest.raises(SourceError) as caught:
        web.get(url)
    return caught.value.why


def test_we_say_who_we_are_and_what_we_have_already(serve: Serve) -> None:
    service = serve(lambda asked: asked.tell(b"", 304))
    web_for(service).get(f"{service.address}/x?a=1", Marks('W/"7"', "Tue, 14 Jul 2026 10:00:00 GMT"))
    ((path, headers),) = service.seen
    assert path == "/x?a=1"
    assert headers["user-agent"] == "Slabtide/test (mailto:office@slab.test)"
    assert headers["if-none-match"] == 'W/"7"'
    assert headers["if-modified-since"] == "Tue, 14 Jul 2026 10:00:00 GMT"


@pytest.mark.parametrize("slow", [silent, trickling])
def test_what_is_slow_is_cut_off_in_time(serve: Serve, slow: object) -> None:
    service = serve(slow)  # type: ignore[arg-type]
    began = time.monotonic()
    said = why(web_for(service, timeout_s=0.6), service.address)
    assert time.monotonic() - began < 1.5
    assert said == "gave no answer within 0.6 s"


def test_headers_that_never_end_are_cut_off_too(serve: Serve) -> None:
    def endless(asked: Asked) -> None:
        asked.wfile.write(b"HTTP/1.1 200 OK\r\n")
        while not asked.service.closing.wait(0.05):
            asked.wfile.write(b"X-More: 1\r\n"[:3])

    service = serve(endless)
    assert "within 0.5 s" in why(web_for(service, timeout_s=0.5), service.address)


def test_a_body_is_read_up_to_its_limit_plain_or_packed(serve: Serve) -> None:
    huge = serve(lambda asked: asked.tell(b" " * (MOST_BYTES + 1)))
    bomb = serve(lambda asked: asked.tell(b" " * 16 * MB, packed=True))
    assert why(web_for(huge), huge.address) == "answered with more than 4 MB"
    assert why(web_for(bomb), bomb.address) == "answered with more than 4 MB"
    fits = serve(lambda asked: asked.tell(b" " * 2 * MB, packed=True))
    assert len(web_for(fits).get(fits.address).body) == 2 * MB


def test_damaged_packing_and_a_cut_body_are_told_apart_from_an_answer(serve: Serve) -> None:
    whole = gzip.compress(b'{"a": 1}' * 500)
    broken = serve(lambda asked: asked.tell(b"no gzip", Content_Encoding="gzip"))
    cut = serve(lambda asked: asked.tell(whole[:-20], Content_Encoding="gzip"))
    assert why(web_for(broken), broken.address) == "answered with a damaged body"
    assert why(web_for(cut), cut.address) == "answered with a body cut short"


@pytest.mark.parametrize(
    ("status", "headers", "said", "wait"),
    [
        (301, {"Location": "http://169.254.0.1/"}, "points to another address", None),
        (429, {"Retry_After": "120"}, "asks us to slow down", timedelta(minutes=2)),
        (503, {"Retry_After": "999999999"}, "answered with an error (503)", None),
        (500, {}, "answered with an error (500)", None),
    ],
)
def test_a_refusal_says_why_and_how_long(
    serve: Serve, status: int, headers: dict[str, str], said: str, wait: timedelta | None
) -> None:
    service = serve(lambda asked: asked.tell(b"", status, **headers))
    with pytest.raises(SourceError) as caught:
        web_for(service).get(service.address)
    assert (caught.value.why, caught.value.retry_after) == (said, wait)
    assert len(service.seen) == 1, "no redirect is followed"


def test_no_other_host_is_ever_asked(serve: Serve) -> None:
    known, other = serve(silent), serve(silent)
    assert "not allowed" in why(web_for(known), other.address)
    assert "not allowed" in why(web_for(known), known.address.replace("http:", "https:"))
    assert other.seen == []


def test_a_refused_connection_says_so(serve: Serve) -> None:
    service = serve(silent)
    web = web_for(service)
    service.server.server_close()
    with pytest.raises(UnreachableError, match="can't be reached"):
        web.get(service.address)


def test_stopping_ends_what_is_under_way(serve: Serve) -> None:
    service = serve(silent)
    web = web_for(service, timeout_s=10)
    threading.Timer(0.3, web.stop).start()
    began = time.monotonic()
    assert why(web, service.address) == "is no longer asked"
    assert time.monotonic() - began < 2
    assert why(web, service.address) == "is no longer asked"


@pytest.mark.parametrize(
    ("headers", "minutes"),
    [
        ({}, 60),
        ({"Cache_Control": "public, max-age=1800, s-maxage=3600"}, 30),
        ({"Cache_Control": "max-age=5"}, 10),
        ({"Cache_Control": "max-age=86400"}, 180),
        ({"Date": "Tue, 14 Jul 2026 12:00:00 GMT", "Expires": "Tue, 14 Jul 2026 12:45:00 GMT"}, 45),
        ({"Expires": "nonsense", "Cache_Control": "max-age=x"}, 60),
    ],
)
def test_an_answer_is_good_for_as_long_as_it_says(
    serve: Serve, headers: dict[str, str], minutes: int
) -> None:
    def answer(asked: Asked) -> None:
        asked.send_response_only(200)
        for name, value in headers.items():
            asked.send_header(name.replace("_", "-"), value)
        asked.end_headers()

    service = serve(answer)
    assert web_for(service).get(service.address).good_for(at_noon()) == timedelta(minutes=minutes)
