"""A list of jobs comes in whole or not at all, and twice is as good as once."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import select
from tests.conftest import Joined, Syncs
from tests.office.exports.test_export import export, record_all
from werkzeug.test import TestResponse

from slabtide.errors import AppError
from slabtide.office.exports.bodies import bodies_of
from slabtide.office.exports.cells import csv_lines
from slabtide.office.exports.reading import MOST_ROWS, read_list
from slabtide.office.exports.said import WORDS
from slabtide.store.session import read
from slabtide.store.tables import Event, JobMark

Join = Callable[..., Joined]
HEAD = "name,place,latitude,longitude,time_zone,use,customer,pour_at,volume_m3,loads,note\n"
ROW = (
    "Harbor patio,14 Lantern Row,36.1,-79.95,America/New_York,patio,R. Ellery,"
    "2026-07-14 07:00,10.7,2,Gate left\n"
)
WALK = "Front walk,3 Quarry Rise,36.1,-79.95,America/New_York,walk,,,,,\n"


@pytest.fixture
def office(join: Join) -> Joined:
    return join("office", name="June")


def send(client: FlaskClient, who: Joined, text: str | bytes, keep: bool = False) -> TestResponse:
    kind = who.headers | {"Content-Type": "text/csv; charset=utf-8"}
    return client.post(f"/api/jobs/import{'?keep=yes' if keep else ''}", data=text, headers=kind)


def stored(app: Flask) -> list[Event]:
    with app.app_context(), read() as session:
        return list(session.scalars(select(Event).order_by(Event.seq)))


def problems(answer: TestResponse) -> list[tuple[int, str]]:
    assert answer.status_code == 422
    return [(one["row"], one["column"]) for one in answer.get_json()["problems"]]


def test_a_list_is_only_looked_at_until_it_is_to_be_kept(
    app: Flask, client: FlaskClient, office: Joined
) -> None:
    looked = send(client, office, HEAD + ROW + WALK)
    assert looked.status_code == 200
    assert (looked.get_json()["new"], looked.get_json()["kept"], stored(app)) == (2, False, [])
    kept = send(client, office, HEAD + ROW + WALK, keep=True)
    assert (kept.status_code, kept.get_json()["new"]) == (201, 2)
    assert [event.kind for event in stored(app)] == [
        "job.opened",
        "order.placed",
        "note.written",
        "job.opened",
    ]


def test_what_is_kept_is_what_the_list_says(app: Flask, client: FlaskClient, office: Joined) -> None:
    send(client, office, HEAD + ROW, keep=True)
    opened, order, note = (event.body for event in stored(app))
    assert (opened["name"], opened["longitude_deg"], opened["customer"]) == (
        "Harbor patio",
        -79.95,
        "R. Ellery",
    )
    assert order == {"volume_m3": 10.7, "loads": 2, "pour_at": "2026-07-14T11:00:00.000Z"}
    assert note == {"text": "Gate left"}


def test_entries_are_the_persons_own_reach_every_phone_and_mark_the_job(
    app: Flask, client: FlaskClient, sync: Syncs, office: Joined, join: Join
) -> None:
    job = send(client, office, HEAD + ROW, keep=True).get_json()["jobs"][0]["job"]
    for who in (office, join("foreman")):  # the office's own browser gets them too: another device made them
        assert [event["seq"] for event in sync(who)["events"]] == [1, 2, 3]
    assert {(event.author, event.job) for event in stored(app)} == {(office.person, job)}
    with app.app_context(), read() as session:
        assert session.get_one(JobMark, (office.company, job)).dirty


def test_the_same_list_again_makes_nothing_twice(
    app: Flask, client: FlaskClient, office: Joined, join: Join
) -> None:
    send(client, office, HEAD + ROW, keep=True)
    for who in (office, join("foreman")):
        again = send(client, who, HEAD + ROW + WALK.replace("Front", who.name), keep=True).get_json()
        assert (again["new"], again["known"]) == (1, 1)
    assert [event.kind for event in stored(app)].count("order.placed") == 1


def test_one_wrong_cell_keeps_the_whole_list_out(app: Flask, client: FlaskClient, office: Joined) -> None:
    answer = send(client, office, HEAD + ROW + WALK.replace("36.1", "136.1"), keep=True)
    assert problems(answer) == [(3, "latitude_deg")]
    assert stored(app) == []


WRONG = [
    ("Harbor patio", "", "name"),
    ("36.1", "north", "latitude_deg"),
    ("36.1", "nan", "latitude_deg"),
    ("-79.95", "1e999", "longitude_deg"),
    ("America/New_York", "New York", "time_zone"),
    ("patio,R", "roof,R", "use"),
    ("2026-07-14 07:00", "7/14/26", "pour_at"),
    ("2026-07-14 07:00", "2026-03-08 02:30", "pour_at"),
    ("2026-07-14 07:00", "", "pour_at"),
    ("10.7", "9 yards", "volume_m3"),
    ("10.7", "900", "volume_m3"),
    ("10.7", "", "volume_m3"),
    (",2,Gate", ",2.5,Gate", "loads"),
    (",2,Gate", ",41,Gate", "loads"),
]


@pytest.mark.parametrize(("right", "wrong", "column"), WRONG)
def test_a_wrong_cell_is_named_by_row_and_column(
    client: FlaskClient, office: Joined, right: str, wrong: str, column: str
) -> None:
    assert right in ROW
    assert problems(send(client, office, HEAD + WALK + ROW.replace(right, wrong))) == [(3, column)]


@pytest.mark.parametrize(
    ("text", "where"),
    [
        (HEAD.replace("place", "adress") + ROW, (1, "adress")),
        (HEAD.replace("place", "name") + ROW, (1, "name")),
        (HEAD.replace("latitude", "place2") + ROW, (1, "place2")),
        (HEAD + ROW + ROW, (3, "name")),
        (HEAD + ROW.replace("\n", ",more\n"), (2, "")),
        (HEAD.replace("loads", "volume_yd3") + ROW, (2, "volume_yd3")),
    ],
)
def test_a_wrong_heading_or_row_is_named(
    client: FlaskClient, office: Joined, text: str, where: tuple[int, str]
) -> None:
    assert where in problems(send(client, office, text))


@pytest.mark.parametrize(
    ("data", "status"),
    [
        (b"", 400),
        (HEAD.encode(), 400),
        (b"\xff\xfe\x00n", 400),
        (b"PK\x03\x04\x00", 400),
        (HEAD.encode() + b'"open', 422),  # a row that can't be read is named like any other that is wrong
        ((HEAD + ROW * (MOST_ROWS + 1)).encode(), 413),
        (b"a," * 90 + b"\n", 422),
        (b"x" * (1 << 20) + b"y", 413),
    ],
)
def test_what_is_no_list_or_too_much_is_refused(
    app: Flask, client: FlaskClient, office: Joined, data: bytes, status: int
) -> None:
    assert send(client, office, data, keep=True).status_code == status
    assert stored(app) == []


@pytest.mark.parametrize(
    ("text", "row", "code", "params"),
    [
        (HEAD.replace("place", "plase") + ROW, 1, "column_near", {"near": "place"}),
        (HEAD.replace(",place", ",zzz") + ROW, 1, "column_unknown", None),
        (HEAD.replace("volume_m3", "volume_yd3") + ROW.replace("10.7", "900"), 2, "outside", {"value": 900}),
        (HEAD + ROW.replace("10.7", "9 yards"), 2, "no_number", {"value": "9 yards"}),
        (HEAD + ROW.replace("36.1", "136.1"), 2, "outside", {"value": 136.1, "low": -90, "high": 90}),
        (HEAD + ROW.replace("America/New_York", "New York"), 2, "zone_unknown", {"value": "New York"}),
        (HEAD + ROW.replace("patio,R", "roof,R"), 2, "use_unknown", None),
        (HEAD + ROW.replace("Harbor", "Harbor" * 20), 2, "too_long", {"count": 126, "most": 80}),
        (HEAD + ROW + WALK + ROW, 4, "job_twice", {"first": 2}),
        (HEAD + ROW.replace("\n", ",more\n"), 2, "row_too_long", {}),
        (HEAD + ROW + '"open', 3, "row_unreadable", {}),
    ],
)
def test_what_is_wrong_comes_as_a_code_with_what_its_words_hold(
    client: FlaskClient, office: Joined, text: str, row: int, code: str, params: dict[str, Any] | None
) -> None:
    answer = send(client, office, text)
    assert answer.status_code == 422
    (found,) = [one for one in answer.get_json()["problems"] if one["code"] == code]
    assert found["row"] == row
    assert params is None or params.items() <= found["params"].items()
    assert "{" not in found["message"]


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_code_has_its_words_in_both_languages_with_what_they_hold(language: str) -> None:
    words = (Path(__file__).parents[3] / "pwa/src/page/words" / language / "bringIn.ts").read_text()
    told = dict(re.findall(r"'bringIn\.problem\.(\w+)': '(.*)',", words))
    assert set(told) == set(WORDS)
    slots = re.compile(r"{(\w+)")
    for code, english in WORDS.items():
        assert set(slots.findall(told[code])) == set(slots.findall(english)), code


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "list_empty"),
        (HEAD.encode(), "list_no_jobs"),
        (b"\xff\xfe\x00n", "list_no_text"),
        ((HEAD + ROW * (MOST_ROWS + 1)).encode(), "list_too_long"),
    ],
)
def test_a_list_that_is_none_is_refused_by_a_code_that_both_languages_know(
    client: FlaskClient, office: Joined, data: bytes, code: str
) -> None:
    assert send(client, office, data).get_json()["error"]["code"] == code
    for language in ("en", "es"):
        words = (Path(__file__).parents[3] / "pwa/src/page/words" / language / "trouble.ts").read_text()
        assert f"'trouble.{code}'" in words


def test_a_form_post_from_elsewhere_is_not_read(client: FlaskClient, office: Joined) -> None:
    answer = client.post("/api/jobs/import", data={"name": "x"}, headers=office.headers)
    assert answer.status_code == 415


def test_us_units_semicolons_and_decimal_commas_are_read() -> None:
    head = "Name;Latitude;Longitude;Time zone;Pour at;Area ft2;Thickness in;Color\n"
    listed = read_list(
        (head + "Deck;36,1;-79,95;America/Chicago;2026-07-14T07:00-05:00;1000;4;tan\n").encode()
    )
    _, order, note = bodies_of(listed.lines[0], listed.problems)
    assert listed.problems == []
    assert order.body["volume_m3"] == pytest.approx(9.4389, abs=1e-3)  # 1000 ft² by 4 in is 12.35 yd³
    assert (order.body["loads"], order.body["colour"]) == (2, "tan")
    assert note.body["text"] == "From the list of jobs: area 92.903 m², thickness 101.6 mm."


def test_the_template_can_be_filled_in_and_sent_back(client: FlaskClient, office: Joined) -> None:
    template = client.get("/api/jobs/import-template.csv", headers=office.headers)
    answer = send(client, office, template.data)
    assert (answer.status_code, answer.get_json()["new"]) == (200, 1)


def test_an_exported_list_comes_in_again_elsewhere_and_is_known_here(
    client: FlaskClient, sync: Syncs, office: Joined, join: Join, job: str
) -> None:
    record_all(sync, join("foreman"), job)
    jobs = export(client, office).read("jobs.csv")
    assert send(client, office, jobs).get_json()["known"] == 1
    other = jobs.replace(job.encode(), b"")
    found = send(client, office, other, keep=True).get_json()
    assert (found["new"], "phase" in found["left_aside"]) == (1, True)


NAMES = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=40)
PLACES = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=60).map(str.strip)
TIMES = st.integers(0, 500_000).map(
    lambda minutes: datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes)
)


@settings(deadline=None)
@given(
    name=NAMES,
    place=PLACES,
    at=st.tuples(st.integers(-8999, 8999), st.integers(-17999, 17999)),
    volume=st.integers(1, 50_000).map(lambda cubes: cubes / 100),
    pour_at=TIMES,
)
def test_a_written_row_is_read_as_what_it_says(
    name: str, place: str, at: tuple[int, int], volume: float, pour_at: datetime
) -> None:
    head = ("name", "place", "latitude_deg", "longitude_deg", "time_zone", "pour_at", "volume_m3")
    row: Any = (name, place, at[0] / 100, at[1] / 100, "UTC", pour_at.isoformat(), max(volume, 0.1))
    listed = read_list(csv_lines([head, row]).encode())
    opened, order = bodies_of(listed.lines[0], listed.problems)
    assert listed.problems == []
    assert (opened.body["name"], opened.body.get("place", "")) == (name.strip(), place)
    assert (opened.body["latitude_deg"], opened.body["longitude_deg"]) == (at[0] / 100, at[1] / 100)
    assert order.body["volume_m3"] == max(volume, 0.1)
    assert order.body["pour_at"] == pour_at.isoformat(timespec="milliseconds").replace("+00:00", "Z")


@settings(deadline=None)
@given(st.binary(max_size=300) | st.text(max_size=300).map(str.encode))
def test_any_bytes_are_read_or_refused_in_words(data: bytes) -> None:
    try:
        listed = read_list(HEAD.encode() + data)
    except AppError:
        return
    for line in listed.lines:
        bodies_of(line, listed.problems)
    assert all(problem.message for problem in listed.problems)
