"""Bodies are strict: what is wrong is named, in words that say what to do."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabtide.log.kinds import KINDS, SetKey
from slabtide.log.kinds.fields import BodyField

U = "7a52c0de-0c2e-4d53-9d4c-0e6f6d1f0a02"
SHA = "ab" * 32
SQUARE = [[0, 0], [4, 0], [4, 3], [0, 3]]
DAY = {"date": "2026-07-14", "low_c": 12, "high_c": 24, "rh": 0.6, "wind_kmh": 8, "cloud": 0.2}
SLAB = {
    "corners": SQUARE,
    "thickness_m": 0.1,
    "insulation_r_m2k_w": 0,
    "ground_temp_c": 15,
    "solar_absorptivity": 0.7,
    "abutting": [{"edge": 3, "against": "house"}],
}
OPENED = {"name": "Patio", "latitude_deg": 41, "longitude_deg": -87, "time_zone": "America/Chicago"}
MIX = {"name": "4000", "cement_kg_m3": 340, "w_cm": 0.45, "design_strength_mpa": 28, "aggregate": "rounded"}
TICKET = {"load": U, "number": 1, "batched_at": "2026-07-14T11:05:00Z", "volume_m3": 6}
PLACED = {"load": U, "from": "2026-07-14T11:35:00-05:00", "to": "2026-07-14T11:52:00-05:00"}
SLOT = {"work": "seal", "coat": 2, "from": "2026-07-16T13:00:00Z", "to": "2026-07-16T15:00:00Z"}
LEAST_OF_INPUTS: dict[str, dict[str, Any]] = {
    "load.merged": {"load": U, "into": U.replace("7a52", "7a53")},
    "cover.laid": {"cover": U, "cover_kind": "blanket"},
    "cover.lifted": {"cover": U},
    "pin.assigned": {"pin": U},
    "product.chosen": {"work": "seal"},
    "sheet.tested": {"laid_at": "2026-07-20T20:00:00Z", "dry": True},
    "slot.kept": SLOT,
    "cut.planned": {"cut": U, "from": [0, 0], "to": [4, 0], "order": 1},
    "cut.tested": {"result": "clean", "saw": "early-entry"},
    "callback.noted": {"what": "crack"},
    "care.set": {},
    "learning.set_aside": {"why": "wrong truck"},
}
LEAST: dict[str, dict[str, Any]] = {
    "job.opened": {**OPENED, "use": "patio"},
    "slab.outlined": SLAB,
    "mix.chosen": MIX,
    "order.placed": {"volume_m3": 6, "loads": 1, "pour_at": "2026-07-14T12:00:00Z"},
    "crew.assigned": {"people": 4},
    "bay.drawn": {"bay": U, "label": "1", "corners": SQUARE, "order": 1},
    "load.ticketed": TICKET,
    "load.placed": PLACED,
    "bay.worked": {"bay": U, "step": "mag", "mark": "end"},
    "check.made": {"load": U, "kind": "thumb"},
    "weather.planned": {"days": [DAY]},
    "weather.noted": {"rh": 0.5},
    "item.ticked": {"list": "debris", "item": "walked", "subject": U, "done": True},
    "form.measured": {"point": U, "label": "NE", "spot": [1, 2]},
    "joint.checked": {"edge": 0, "full_depth": True, "continuous": False},
    "level.shot": {"point": U, "label": "1", "spot": [1, 2], "reading_m": 1.2},
    "release.laid": {"bay": U},
    "pin.dropped": {"pin": U, "spot": [1, 2], "what": "crack"},
    "pin.closed": {"pin": U},
    "photo.taken": {"photo": SHA},
    "stage.reached": {"phase": "pour"},
    "cut.made": {"length_m": 3, "saw": "early-entry"},
    "wash.done": {"contained": True},
    "colour.applied": {},
    "coat.sealed": {"coat": 1},
    "reminder.acknowledged": {"reminder": U, "via": "app"},
    "reminder.snoozed": {"reminder": U, "until": "2026-07-14T21:20:00.000Z"},
    "note.written": {"text": "Wind is up."},
    "job.closed": {},
    "event.retracted": {"event": U},
    **LEAST_OF_INPUTS,
}
NUMBERS = [
    (kind, name, field)
    for kind in sorted(KINDS)
    for name, field in KINDS[kind].schema().fields.items()
    if isinstance(field, BodyField) and "min" in (field.limits() or {})
]


def problems(kind: str, /, **change: Any) -> dict[str, Any]:
    return KINDS[kind].schema().validate({**LEAST[kind], **change})


def test_the_table_here_knows_every_kind() -> None:
    assert set(LEAST) == set(KINDS)


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_the_least_body_is_taken_and_null_stands_for_left_out(kind: str) -> None:
    assert problems(kind) == {}
    optional = {name for name, field in KINDS[kind].schema().fields.items() if not field.required}
    if kind != "weather.noted":
        assert problems(kind, **dict.fromkeys(optional - set(LEAST[kind]))) == {}


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_field_that_does_not_belong_is_named(kind: str) -> None:
    assert "not part of this kind" in problems(kind, mood="good")["mood"][0]


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_each_required_field_is_missed(kind: str) -> None:
    schema = KINDS[kind].schema()
    for name in (name for name, field in schema.fields.items() if field.required):
        body = {key: value for key, value in LEAST[kind].items() if key != name}
        assert schema.validate(body)[name] == ["Missing. Fill it in."]


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_set_key_is_made_of_required_fields(kind: str) -> None:
    kind_of = KINDS[kind]
    if isinstance(kind_of.rule, SetKey):
        fields = kind_of.schema().fields
        named = [part.split("}")[0] for part in kind_of.rule.key.split("{")[1:]]
        assert all(fields[name].required for name in named)


@pytest.mark.parametrize(("kind", "name", "field"), NUMBERS, ids=[f"{k}.{n}" for k, n, _ in NUMBERS])
@pytest.mark.parametrize("wrong", ["nan", "inf", "below", "above", "text", "true"])
def test_a_number_outside_its_limits_is_refused(kind: str, name: str, field: BodyField, wrong: str) -> None:
    limits = field.limits() or {}
    value = {
        "nan": float("nan"),
        "inf": float("inf"),
        "below": limits["min"] - 1,
        "above": limits["max"] + 1,
        "text": "1",
        "true": True,
    }[wrong]
    assert name in problems(kind, **{name: value})
    assert name not in problems(kind, **{name: limits["min"]})
    assert name not in problems(kind, **{name: limits["max"]})


@pytest.mark.parametrize(
    ("kind", "change", "path", "words"),
    [
        ("load.placed", {"to": "2026-07-14T11:34:59-05:00"}, "to", "ends before it starts"),
        ("load.placed", {"to": "2026-07-14T11:52:00"}, "to", "with its offset"),
        ("load.placed", {"to": "2026-02-30T11:52:00Z"}, "to", "not a date and time that exists"),
        ("load.placed", {"to": "9999-01-01T00:00:00Z"}, "to", "not in this century"),
        ("slab.outlined", {"abutting": [{"edge": 4, "against": "x"}]}, "abutting", "has 4 sides"),
        ("slab.outlined", {"abutting": [{"edge": 1, "against": "x"}] * 2}, "abutting", "listed twice"),
        ("check.made", {"kind": "footprint"}, "depth_mm", "needs its depth"),
        ("weather.planned", {"days": [DAY, DAY]}, "days", "there twice"),
        ("weather.noted", {"rh": None}, "air_temp_c", "Nothing was noted"),
        ("job.opened", {"time_zone": "Mars/Olympus"}, "time_zone", "No time zone is called"),
        ("job.opened", {"time_zone": "../../etc/passwd"}, "time_zone", "Must be a time zone"),
        ("job.opened", {"time_zone": "/etc/localtime"}, "time_zone", "Must be a time zone"),
        ("job.opened", {"name": "   "}, "name", "Blank"),
        ("job.opened", {"name": "x" * 81}, "name", "81 characters; at most 80"),
        ("job.opened", {"name": "a\x00b"}, "name", "can't be stored"),
        ("job.opened", {"name": "a\ud800b"}, "name", "can't be stored"),
        ("photo.taken", {"photo": SHA.upper()}, "photo", "SHA-256"),
        ("photo.taken", {"bay": U + "\n"}, "bay", "Must be a UUID"),
        ("item.ticked", {"item": "../x"}, "item", "short name"),
        ("item.ticked", {"subject": "a/b"}, "subject", "Must be empty"),
        ("pin.dropped", {"spot": [1, 2, 3]}, "spot", "[x, y] in metres"),
        ("pin.dropped", {"spot": [1, float("nan")]}, "spot", "not within 1000 m"),
        ("pin.dropped", {"spot": [True, 1]}, "spot", "[x, y] in metres"),
        ("pin.dropped", {"spot": [10**400, 1]}, "spot", "not within 1000 m"),
        ("level.shot", {"reading_m": 10**400}, "reading_m", "is outside -10 to 10 m"),
        ("level.shot", {"reading_m": float("-inf")}, "reading_m", "-inf is outside -10 to 10 m"),
        ("pin.dropped", {"spot": [1, 5000]}, "spot", "not within 1000 m"),
        ("pin.dropped", {"what": "ghost"}, "what", "Must be one of: debris, thin_texture"),
        ("bay.drawn", {"order": 1.5}, "order", "whole number"),
        ("load.merged", {"into": U}, "into", "can't be merged into itself"),
        ("cover.laid", {"cover_kind": "tarp"}, "cover_kind", "Must be one of: blanket, wet, sheet"),
        ("mix.chosen", {"cement_type": "I"}, "cement_type", "Must be one of: I/II, III, V, IL"),
        ("mix.chosen", {"fly_ash_fraction": 0.5, "slag_fraction": 0.4}, "fly_ash_fraction", "make 90%"),
        ("mix.chosen", {"fly_ash_fraction": 20}, "fly_ash_fraction", "0.2 is 20 % of the binder"),
        ("mix.chosen", {"admixtures": [{"type": "A", "dose": 1}] * 9}, "admixtures", "0 to 8 rows"),
        ("product.chosen", {"low_c": 30, "high_c": 10}, "high_c", "below the least"),
        ("product.chosen", {"recoat_least_h": 24, "recoat_most_h": 4}, "recoat_most_h", "below the least"),
        ("slot.kept", {"to": SLOT["from"]}, "to", "ends before it starts"),
        ("slot.kept", {"work": "wash"}, "coat", "Only sealer"),
        ("cut.planned", {"to": [0, 0]}, "to", "ends where it starts"),
        ("cut.tested", {"result": "fine"}, "result", "Must be one of: clean, slight, ravels"),
        ("callback.noted", {"what": "ghost"}, "what", "Must be one of: crack"),
    ],
)
def test_what_is_wrong_is_said_where_it_is(kind: str, change: dict[str, Any], path: str, words: str) -> None:
    assert words in problems(kind, **change)[path][0]


def test_a_swapped_high_and_low_is_said_at_its_day() -> None:
    found = problems("weather.planned", days=[DAY, {**DAY, "date": "2026-07-15", "high_c": 2}])
    assert found == {"days": {1: {"high_c": ["The high is below the low. Swap them."]}}}


def test_an_admixture_outside_its_dose_is_said_at_its_row() -> None:
    rows = [{"type": "A", "dose": 1}, {"type": "Q", "dose": 3}]
    for kind in ("mix.chosen", "load.ticketed"):
        found = problems(kind, admixtures=rows)["admixtures"]
        assert set(found) == {1}
        assert "1 is the usual dose" in found[1]["dose"][0]
        assert "Must be one of: A, B" in found[1]["type"][0]


FOREMAN_OFFICE, CREW_FOREMAN = ("foreman", "office"), ("crew", "foreman")


@pytest.mark.parametrize(
    ("kind", "roles"),
    [
        *(
            (kind, FOREMAN_OFFICE)
            for kind in ("product.chosen", "slot.kept", "callback.noted", "care.set", "crew.assigned")
        ),
        *(
            (kind, CREW_FOREMAN)
            for kind in ("cover.laid", "cover.lifted", "load.merged", "pin.assigned", "sheet.tested")
        ),
        *((kind, CREW_FOREMAN) for kind in ("cut.planned", "cut.tested")),
    ],
)
def test_what_the_office_decides_and_what_the_crew_does_are_theirs(kind: str, roles: tuple[str, ...]) -> None:
    assert KINDS[kind].roles == roles


@given(st.text())
def test_no_text_makes_a_time_field_fail_in_any_other_way(text: str) -> None:
    problems("load.placed", to=text)
    problems("job.opened", time_zone=text)
