"""A job with something of every kind on record, each number its own: one found is the right one."""

import uuid
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from slabtide.engine.pour import WeatherHour
from slabtide.log.envelope import Event
from slabtide.log.fold import fold
from slabtide.log.view import view_job
from slabtide.office.record.contract import ReminderLine, Source

JOB = "6f0c1f0e-7d0a-4a53-9a50-0d2f6a1c9b11"
START = datetime(2026, 7, 14, 10, 30, tzinfo=UTC)  # 6:30 am at the slab
ANA, LUIS = "a1" * 4 + "-1111-4111-8111-" + "a1" * 6, "b2" * 4 + "-2222-4222-8222-" + "b2" * 6
PHOTO = "ab" * 32


def ident(name: str) -> str:
    return str(uuid.uuid5(uuid.UUID(JOB), name))


def iso(minutes: float) -> str:
    return (START + timedelta(minutes=minutes)).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def events(made: list[tuple[str, float, str, dict[str, Any]]]) -> list[Event]:
    """Entries from (kind, minutes after the start, author, body), in the order given."""
    return [
        Event(
            ident(f"event {n}"),
            JOB,
            kind,
            body,
            iso(at),
            f"{n:015d}-0000-{ident('device')}",
            ident("device"),
            who,
        )
        for n, (kind, at, who, body) in enumerate(made)
    ]


BAY_A, BAY_B, LOAD_1, LOAD_2 = ident("bay a"), ident("bay b"), ident("load 1"), ident("load 2")
PIN_1, PIN_2, REMINDER = ident("pin 1"), ident("pin 2"), ident("reminder")
LAID_OUT: list[tuple[str, float, str, dict[str, Any]]] = [
    (
        "job.opened",
        -3000,
        ANA,
        {
            "name": "Señor Núñez's patio",
            "place": "14 Lantern Row",
            "latitude_deg": 36.1,
            "longitude_deg": -79.95,
            "time_zone": "America/New_York",
            "use": "patio",
            "customer": "The Aldous family",
        },
    ),
    (
        "slab.outlined",
        -2990,
        ANA,
        {
            "corners": [[0, 0], [9, 0], [9, 5], [6, 5], [6, 8], [0, 8]],
            "thickness_m": 0.115,
            "insulation_r_m2k_w": 0.4,
            "ground_temp_c": 19,
            "solar_absorptivity": 0.71,
            "abutting": [{"edge": 0, "against": "kitchen wall"}],
            "uncut_length_m": 6.2,
        },
    ),
    (
        "mix.chosen",
        -2980,
        ANA,
        {
            "name": "Patio mix",
            "cement_kg_m3": 335,
            "w_cm": 0.46,
            "design_strength_mpa": 28.3,
            "aggregate": "crushed-hard",
            "colour": "adobe",
            "set_factor": 1.12,
            "set_factor_sd": 0.15,
            "note": "air 5 %",
        },
    ),
    (
        "order.placed",
        -2970,
        ANA,
        {"volume_m3": 7.4, "loads": 2, "supplier": "Kettle Bend", "pour_at": iso(35), "slump_mm": 95},
    ),
    (
        "crew.assigned",
        -2960,
        ANA,
        {
            "people": 5,
            "mats": 9,
            "mat_area_m2": 0.62,
            "lay_minutes": 2.5,
            "saw_kind": "conventional",
            "saw_length_m": 21,
            "saw_rate_m_per_min": 1.1,
            "lead": LUIS,
        },
    ),
    (
        "bay.drawn",
        -2950,
        LUIS,
        {
            "bay": BAY_A,
            "label": "West",
            "order": 0,
            "load": LOAD_1,
            "corners": [[0, 0], [4.5, 0], [4.5, 8], [0, 8]],
        },
    ),
    (
        "bay.drawn",
        -2949,
        LUIS,
        {
            "bay": BAY_B,
            "label": "East",
            "order": 1,
            "load": LOAD_2,
            "corners": [[4.5, 0], [9, 0], [9, 5], [6, 5], [6, 8], [4.5, 8]],
        },
    ),
    (
        "form.measured",
        -2900,
        LUIS,
        {
            "point": ident("f1"),
            "label": "F1",
            "spot": [1, 0.5],
            "height_m": -0.013,
            "depth_m": 0.121,
            "firm": True,
        },
    ),
    ("joint.checked", -2890, LUIS, {"edge": 0, "full_depth": True, "continuous": False, "depth_m": 0.118}),
    *[
        (
            "level.shot",
            -2880 + n,
            LUIS,
            {"point": ident(f"l{n}"), "label": f"L{n}", "spot": spot, "reading_m": r},
        )
        for n, (spot, r) in enumerate([([0, 0], 1.2), ([9, 0], 1.2), ([9, 5], 1.3), ([0, 8], 1.36)])
    ],
    (
        "item.ticked",
        -2870,
        LUIS,
        {"list": "forms", "item": "square", "subject": "", "done": True, "note": "twice"},
    ),
    (
        "weather.planned",
        -2860,
        ANA,
        {
            "days": [
                {"date": "2026-07-14", "low_c": 18, "high_c": 31, "rh": 0.64, "wind_kmh": 9, "cloud": 0.25}
            ]
        },
    ),
]
POURED: list[tuple[str, float, str, dict[str, Any]]] = [
    (
        "load.ticketed",
        5,
        LUIS,
        {
            "load": LOAD_1,
            "number": 1,
            "ticket": "KB-77",
            "batched_at": iso(0),
            "volume_m3": 3.9,
            "slump_mm": 102,
            "concrete_temp_c": 26.5,
            "water_added_l": 11,
            "colour_bags": 6,
        },
    ),
    ("load.placed", 62, LUIS, {"load": LOAD_1, "from": iso(36), "to": iso(61)}),
    (
        "load.ticketed",
        50,
        LUIS,
        {
            "load": LOAD_2,
            "number": 2,
            "ticket": "KB-78",
            "batched_at": iso(45),
            "volume_m3": 3.5,
            "slump_mm": 98,
            "concrete_temp_c": 28,
        },
    ),
    ("load.placed", 104, LUIS, {"load": LOAD_2, "from": iso(80), "to": iso(103)}),
    (
        "weather.noted",
        40,
        LUIS,
        {"air_temp_c": 24.5, "rh": 0.58, "wind_kmh": 13, "cloud": 0.3, "raining": False},
    ),
    ("bay.worked", 63, LUIS, {"bay": BAY_A, "step": "bull_float", "mark": "start"}),
    ("bay.worked", 71, LUIS, {"bay": BAY_A, "step": "bull_float", "mark": "end"}),
    (
        "check.made",
        120,
        ANA,
        {"load": LOAD_1, "bay": BAY_A, "kind": "footprint", "depth_mm": 7, "spot": [1.5, 2]},
    ),
    (
        "release.laid",
        140,
        LUIS,
        {"bay": BAY_A, "what": "powder", "mass_kg": 5.2, "product": "Walnut release"},
    ),
    ("bay.worked", 150, ANA, {"bay": BAY_A, "step": "texture", "mark": "start"}),
    ("bay.worked", 185, ANA, {"bay": BAY_A, "step": "texture", "mark": "end"}),
    ("bay.worked", 186, ANA, {"bay": BAY_B, "step": "texture", "mark": "start"}),
    ("bay.worked", 221, ANA, {"bay": BAY_B, "step": "texture", "mark": "end", "note": "late"}),
    (
        "pin.dropped",
        70,
        LUIS,
        {"pin": PIN_1, "spot": [2, 3], "what": "debris", "bay": BAY_A, "note": "leaf", "photo": PHOTO},
    ),
    ("pin.closed", 74, LUIS, {"pin": PIN_1, "how": "picked out"}),
    ("pin.dropped", 230, ANA, {"pin": PIN_2, "spot": [7, 4], "what": "thin_texture", "bay": BAY_B}),
]
AFTER: list[tuple[str, float, str, dict[str, Any]]] = [
    ("reminder.acknowledged", 500, ANA, {"reminder": REMINDER, "via": "app"}),
    (
        "cut.made",
        560,
        LUIS,
        {
            "length_m": 8,
            "depth_m": 0.032,
            "saw": "conventional",
            "ravelled": False,
            "from": [4.5, 0],
            "to": [4.5, 8],
        },
    ),
    (
        "cut.made",
        580,
        LUIS,
        {"length_m": 6, "depth_m": 0.031, "saw": "conventional", "from": [0, 5], "to": [6, 5], "last": True},
    ),
    ("wash.done", 2900, LUIS, {"method": "low pressure", "contained": True}),
    ("colour.applied", 4300, LUIS, {"product": "Brown tint", "area_m2": 60}),
    ("coat.sealed", 5800, LUIS, {"coat": 1, "product": "Clear 25", "volume_l": 12.5, "area_m2": 62}),
    ("coat.sealed", 5900, LUIS, {"coat": 2, "product": "Clear 25", "volume_l": 11, "area_m2": 62}),
    ("cut.tested", 540, LUIS, {"result": "slight", "saw": "conventional", "load": LOAD_1, "bay": BAY_A}),
    ("sheet.tested", 5700, LUIS, {"laid_at": iso(4700), "dry": True, "bay": BAY_B, "note": "No drops"}),
    ("callback.noted", 5990, ANA, {"what": "white_sealer", "bay": BAY_A, "note": "By the downspout"}),
    ("note.written", 5950, ANA, {"text": "Gate code changed."}),
    ("photo.taken", 5960, ANA, {"photo": "cd" * 32, "caption": "Done"}),
    ("job.closed", 6000, ANA, {"outcome": "Happy owner"}),
]


def three(minutes: float) -> dict[str, str]:
    return {"early": iso(minutes - 20), "likely": iso(minutes), "late": iso(minutes + 25)}


TIMELINE: dict[str, Any] = {
    "loads": [
        {
            "id": LOAD_1,
            "windows": {
                "texture": {"opens": three(145), "closes": three(200)},
                "saw": {"opens": three(520), "closes": three(760)},
            },
        },
        {
            "id": LOAD_2,
            "windows": {
                "texture": {"opens": three(190), "closes": three(215)},
                "saw": {"opens": three(565), "closes": three(800)},
            },
        },
    ]
}


def hours() -> Iterator[WeatherHour]:
    for n in range(-1, 40):
        yield WeatherHour(
            START + timedelta(hours=n), 21 + 0.5 * n, 0.72 - 0.01 * n, 8.0 + n, 10.0, 0.2, 0.0, 0.0
        )


def source(made: list[tuple[str, float, str, dict[str, Any]]], **more: Any) -> Source:
    """A record's source made without a store."""
    log = events(made)
    known: dict[str, Any] = {
        "company": "Bramblecourt Flatwork",
        "view": view_job(fold(log, JOB)),
        "people": {ANA: "Ana Ibáñez", LUIS: "Luis Cantero"},
        "last_at": START + timedelta(minutes=max((at for _, at, _, _ in made), default=0)),
        "entries": len(log),
    }
    return Source(**(known | more))


def whole(photos: dict[str, Path] | None = None) -> Source:
    """The whole job, poured, cut, sealed and closed."""
    return source(
        LAID_OUT + POURED + AFTER,
        timeline=TIMELINE,
        weather_label="Hand-made hours",
        hours=tuple(hours()),
        photos=photos or {},
        reminders={REMINDER: ReminderLine("saw", "open")},
    )
