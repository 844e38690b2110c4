"""What was said of mix, covers, cuts and products before and after the pour has its row in the export."""

from collections.abc import Callable
from typing import Any

import pytest
from flask.testing import FlaskClient
from tests.conftest import Joined, Syncs
from tests.office.exports.test_export import export, record_all, rows
from tests.office.record.whole_job import LOAD_1, LOAD_2

Join = Callable[..., Joined]
COVER = "7a52c0de-0c2e-4d53-9d4c-0e6f6d1f0b01"
CUT = "7a52c0de-0c2e-4d53-9d4c-0e6f6d1f0b02"
AT, LATER = "2026-07-16T13:00:00.000Z", "2026-07-16T15:00:00.000Z"
MIX = {
    **{"name": "M", "cement_kg_m3": 340, "w_cm": 0.45, "design_strength_mpa": 28, "aggregate": "rounded"},
    **{"plant": "North yard", "cement_type": "IL", "fly_ash_fraction": 0.2, "drum_limit_min": 90},
    "admixtures": [{"type": "A", "dose": 1}, {"type": "D", "dose": 0.5}],
}
SAID: list[tuple[str, dict[str, Any]]] = [
    ("mix.chosen", MIX),
    ("crew.assigned", {"people": 4, "crew_name": "Reed", "saw_name": "Saw 2", "sprayer_name": "Low one"}),
    ("cover.laid", {"cover": COVER, "cover_kind": "blanket", "r_m2k_w": 0.5}),
    ("cover.lifted", {"cover": COVER}),
    ("cut.planned", {"cut": CUT, "from": [0, 0], "to": [3, 4], "order": 1}),
    ("cut.made", {"length_m": 5, "saw": "early-entry", "cut": CUT}),
    ("cut.tested", {"result": "slight", "saw": "early-entry", "spot": [1, 2]}),
    ("product.chosen", {"work": "seal", "name": "Clear 25", "low_c": 10, "over_dew_k": 3}),
    ("slot.kept", {"work": "seal", "coat": 2, "from": AT, "to": LATER}),
    ("sheet.tested", {"laid_at": AT, "dry": False}),
    ("callback.noted", {"what": "settled"}),
    ("care.set", {"walk_h": 24}),
]
WANTED: dict[str, dict[str, str]] = {
    "slabs": {"inner_corners": "1", "bonded_0_to_1": "0", "shade_0_to_1": ""},
    "mixes": {"cement_type": "IL", "fly_ash_0_to_1": "0.2", "admixtures_dose": "A 1; D 0.5", "by": "Ana"},
    "crews": {"crew": "Reed", "saw_name": "Saw 2", "sprayer": "Low one"},
    "covers": {"kind": "blanket", "r_m2k_w": "0.5", "lifted_by": "Ana"},
    "planned_cuts": {"order": "1", "from_x_m": "0", "to_y_m": "4", "length_m": "5"},
    "test_cuts": {"result": "slight", "x_m": "1"},
    "products": {"work": "seal", "name": "Clear 25", "low_c": "10", "high_c": "", "over_dew_k": "3"},
    "kept_slots": {"work": "seal", "coat": "2", "from": AT, "to": LATER},
    "sheet_tests": {"laid_at": AT, "dry": "no"},
    "callbacks": {"what": "settled"},
    "care": {"walk_h": "24", "reseal_months": ""},
}


@pytest.fixture
def foreman(join: Join) -> Joined:
    return join("foreman", name="Ana")


def test_each_new_fact_has_its_row(client: FlaskClient, sync: Syncs, foreman: Joined, job: str) -> None:
    record_all(sync, foreman, job)
    said = [sync.event(foreman, job, kind, body) for kind, body in SAID]
    assert sync(foreman, *said)["rejected"] == []
    found = export(client, foreman)
    for name, wanted in WANTED.items():
        told = [{column: row[column] for column in wanted} for row in rows(found, name)]
        assert told.count(wanted) == 1, (name, told)
    assert rows(found, "planned_cuts")[0]["made_at"]
    assert rows(found, "cuts")[-1]["planned_cut"] == CUT


def test_a_load_merged_away_has_no_row_and_the_merge_has_one(
    client: FlaskClient, sync: Syncs, foreman: Joined, job: str
) -> None:
    record_all(sync, foreman, job)
    sync.record(foreman, job, "load.merged", {"load": LOAD_2, "into": LOAD_1})
    found = export(client, foreman)
    (load,), (merge,) = rows(found, "loads"), rows(found, "merges")
    assert (load["number"], merge["double"], merge["kept_load"]) == ("1", LOAD_2, "1")
    assert {check["load"] for check in rows(found, "checks")} == {"1"}
