"""What goes out is everything, and only this company's."""

import csv
import hashlib
import io
import json
import uuid
import zipfile
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from PIL import Image
from tests.conftest import Joined, Syncs
from tests.office.record.reading import text_of
from tests.office.record.whole_job import AFTER, LAID_OUT, POURED

from slabtide.log.envelope import Event
from slabtide.log.fold import fold
from slabtide.log.view import view_job, view_json
from slabtide.office.exports import archive
from slabtide.people.companies import create_company

Join = Callable[..., Joined]


@pytest.fixture
def foreman(join: Join) -> Joined:
    return join("foreman", name="Ana")


def record_all(sync: Syncs, who: Joined, job: str) -> list[dict[str, Any]]:
    """The whole job of the record's tests, recorded by one person."""
    made = [sync.event(who, job, kind, _without_lead(body)) for kind, _, _, body in LAID_OUT + POURED + AFTER]
    answer = sync(who, *made)
    assert answer["rejected"] == []
    return made


def _without_lead(body: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in body.items() if key != "lead"}


def unzip(data: bytes) -> zipfile.ZipFile:
    found = zipfile.ZipFile(io.BytesIO(data))
    assert found.testzip() is None
    return found


def rows(found: zipfile.ZipFile, name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(found.read(f"{name}.csv").decode("utf-8-sig"), newline="")))


def export(client: FlaskClient, who: Joined, query: str = "") -> zipfile.ZipFile:
    answer = client.get(f"/api/export.zip{query}", headers=who.headers)
    assert answer.status_code == 200
    return unzip(answer.data)


def test_a_jobs_export_holds_every_entry_and_folds_to_the_same_view(
    client: FlaskClient, sync: Syncs, foreman: Joined, job: str
) -> None:
    made = record_all(sync, foreman, job)
    found = client.get(f"/api/jobs/{job}/export.json", headers=foreman.headers).get_json()
    assert {event["id"]: event["body"] for event in found["events"]} == {e["id"]: e["body"] for e in made}
    events = [Event.trusted(event) for event in found["events"]]
    assert json.loads(json.dumps(view_json(view_job(fold(events, job))))) == found["view"]
    assert found["people"] == {foreman.person: "Ana"}


def test_the_companys_export_holds_every_entry_in_order_and_a_row_for_each_thing(
    client: FlaskClient, sync: Syncs, foreman: Joined, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(archive, "AT_ONCE", 7)
    made = record_all(sync, foreman, job)
    found = export(client, foreman)
    lines = [json.loads(line) for line in found.read("events.jsonl").decode().splitlines()]
    assert [line["id"] for line in lines] == [event["id"] for event in made]
    assert [line["seq"] for line in lines] == list(range(1, len(made) + 1))
    counts = {"jobs": 1, "loads": 2, "checks": 1, "cuts": 2, "coats": 2, "levels": 4, "pins": 2, "photos": 1}
    assert {name: len(rows(found, name)) for name in counts} == counts


def test_units_stand_in_the_names_of_the_columns(
    client: FlaskClient, sync: Syncs, foreman: Joined, job: str
) -> None:
    record_all(sync, foreman, job)
    found = export(client, foreman)
    load, cut = rows(found, "loads")[0], rows(found, "cuts")[0]
    assert (load["volume_m3"], load["slump_mm"], load["concrete_temp_c"], load["by"]) == (
        "3.9",
        "102",
        "26.5",
        "Ana",
    )
    assert (cut["length_m"], cut["depth_m"], cut["from_x_m"], cut["last"]) == ("8", "0.032", "4.5", "no")


def test_a_name_that_is_a_formula_is_only_a_name_in_the_export(
    client: FlaskClient, sync: Syncs, foreman: Joined, job: str
) -> None:
    body = LAID_OUT[0][3] | {"name": "=cmd|' /C calc'!A0", "customer": "@evil"}
    sync.record(foreman, job, "job.opened", body)
    found = rows(export(client, foreman), "jobs")[0]
    assert (found["name"], found["customer"]) == ("'=cmd|' /C calc'!A0", "'@evil")


def test_photos_come_along_when_asked_for(client: FlaskClient, foreman: Joined) -> None:
    out = io.BytesIO()
    Image.new("RGB", (60, 40), "red").save(out, "JPEG")
    name = hashlib.sha256(out.getvalue()).hexdigest()
    kind = foreman.headers | {"Content-Type": "image/jpeg"}
    assert client.put(f"/api/photos/{name}", data=out.getvalue(), headers=kind).status_code == 201
    assert f"photos/{name}.jpg" not in export(client, foreman).namelist()
    found = export(client, foreman, "?photos=yes")
    with Image.open(io.BytesIO(found.read(f"photos/{name}.jpg"))) as image:
        assert image.size == (60, 40)


def test_an_empty_company_has_an_export_with_headings_only(client: FlaskClient, foreman: Joined) -> None:
    found = export(client, foreman)
    assert found.read("events.jsonl") == b""
    assert rows(found, "loads") == []
    assert found.read("loads.csv").decode("utf-8-sig").startswith("job,job_name,number,")


def test_an_export_nobody_reads_to_the_end_gives_its_turn_back(client: FlaskClient, foreman: Joined) -> None:
    for _ in range(5):
        client.head("/api/export.zip", headers=foreman.headers).close()
    assert client.get("/api/export.zip", headers=foreman.headers).status_code == 200


@pytest.mark.parametrize("path", ["record.pdf", "record.pdf?for=file", "export.json"])
def test_another_companys_job_is_no_job_here(
    app: Flask, client: FlaskClient, sync: Syncs, join: Join, foreman: Joined, job: str, path: str
) -> None:
    record_all(sync, foreman, job)
    with app.app_context():
        other = create_company("Other Flatwork")
    stranger = join("foreman", company=other)
    answer = client.get(f"/api/jobs/{job}/{path}", headers=stranger.headers)
    assert (answer.status_code, answer.get_json()["error"]["code"]) == (404, "job_unknown")
    assert export(client, stranger).read("events.jsonl") == b""
    assert client.get(f"/api/jobs/{job}/{path}", headers=foreman.headers).status_code == 200


def test_the_record_over_http_is_a_pdf_with_a_plain_file_name(
    client: FlaskClient, sync: Syncs, foreman: Joined, job: str
) -> None:
    record_all(sync, foreman, job)
    path = f"/api/jobs/{job}/record.pdf?for=owner&language=es&units=metric"
    answer = client.get(path, headers=foreman.headers)
    assert answer.mimetype == "application/pdf"
    assert answer.headers["Content-Disposition"] == 'attachment; filename="senor-nunez-s-patio-owner.pdf"'
    assert "Su losa" in text_of(answer.data)
    assert client.get(path, headers=foreman.headers).data == answer.data


@pytest.mark.parametrize("query", ["for=nobody", "language=fr", "units=furlongs"])
def test_a_choice_that_is_none_is_refused_by_name(client: FlaskClient, foreman: Joined, query: str) -> None:
    answer = client.get(f"/api/jobs/{uuid.uuid4()}/record.pdf?{query}", headers=foreman.headers)
    assert answer.status_code == 400
    assert answer.get_json()["error"]["path"] == query.split("=")[0]


@pytest.mark.parametrize("job", ["nope", "0", "..", "' or 1=1 --", "x" * 500])
def test_a_job_id_that_is_none_finds_nothing(client: FlaskClient, foreman: Joined, job: str) -> None:
    for path in ("record.pdf", "export.json"):
        assert client.get(f"/api/jobs/{job}/{path}", headers=foreman.headers).status_code == 404
