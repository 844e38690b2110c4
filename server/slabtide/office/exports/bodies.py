"""From a row of the list to the entries a person would have made on a phone."""

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from slabtide.log.envelope import first_problem
from slabtide.log.instants import write_instant
from slabtide.log.kinds import KINDS
from slabtide.log.kinds.fields import Count, Measure, Text, TimeZone
from slabtide.office.exports.columns import COLUMNS
from slabtide.office.exports.reading import Line, Problem
from slabtide.office.exports.said import Said, said

LOAD_M3 = 7.0
"""A load's size where the list does not say how many loads: about 9 yd³; common practice, no source."""
MOST_LOADS = 40


@dataclass(frozen=True, slots=True)
class Body:
    """A kind of entry and what it says."""

    kind: str
    body: dict[str, Any]


def bodies_of(line: Line, problems: list[Problem]) -> list[Body]:
    """The entries of one row: the job, its order, its note. What can't be made is added to `problems`."""
    made = [Body("job.opened", _opened(line))]
    order = _order(line, problems)
    if order is not None:
        made.append(Body("order.placed", order))
    note = _note(line)
    if note:
        made.append(Body("note.written", {"text": note}))
    for one in made:
        _check(one, line, problems)
    return made


def _opened(line: Line) -> dict[str, Any]:
    names = ("name", "place", "latitude_deg", "longitude_deg", "time_zone", "customer")
    body = {name: line.values[name] for name in names if name in line.values}
    return body | {"use": line.values.get("use", "other")}


def _order(line: Line, problems: list[Problem]) -> dict[str, Any] | None:
    volume = _volume_m3(line)
    pour_at = line.values.get("pour_at")
    if volume is None and pour_at is None:
        return None
    if volume is None and "volume_m3" in line.columns:
        return None  # what is written there has a problem of its own
    if volume is None:
        problems.append(Problem(line.row, "volume_m3", said("no_volume")))
        return None
    if pour_at is None:
        if "volume_m3" in line.values:
            column = line.columns["volume_m3"]
            problems.append(Problem(line.row, "pour_at", said("no_pour_time", given=column)))
        return None
    moment = _moment(line, str(pour_at), problems)
    if moment is None:
        return None
    loads = line.values.get("loads") or min(max(math.ceil(volume / LOAD_M3), 1), MOST_LOADS)
    body: dict[str, Any] = {"volume_m3": volume, "loads": loads, "pour_at": moment}
    return body | {
        name: line.values[name] for name in ("supplier", "slump_mm", "colour") if name in line.values
    }


def _volume_m3(line: Line) -> float | None:
    """As given, else area by thickness, else None."""
    given = line.values.get("volume_m3")
    if isinstance(given, float):
        return given
    area, thick = line.values.get("area_m2"), line.values.get("thickness_mm")
    if isinstance(area, float) and isinstance(thick, float):
        return float(f"{area * thick / 1000:.6g}")
    return None


def _moment(line: Line, text: str, problems: list[Problem]) -> str | None:
    """A time on the wall at the slab, or with its offset, as the log writes moments."""
    try:
        read = datetime.fromisoformat(text)
    except ValueError:
        problems.append(Problem(line.row, "pour_at", said("no_moment", value=text)))
        return None
    if read.tzinfo is None:
        try:
            zone = ZoneInfo(str(line.values.get("time_zone", "UTC")))
        except (ValueError, OSError, KeyError):
            return None  # the zone has a problem of its own
        local = read.replace(tzinfo=zone)
        if local.astimezone(UTC).astimezone(zone).replace(tzinfo=None) != read:
            problems.append(Problem(line.row, "pour_at", said("clocks_forward")))
            return None
        read = local
    try:
        return write_instant(read)
    except OverflowError:
        problems.append(Problem(line.row, "pour_at", said("no_such_moment")))
        return None


def _note(line: Line) -> str:
    """What a new job has no field for yet goes into its first note, so that nothing of the list is lost."""
    parts = [str(line.values["note"])] if "note" in line.values else []
    area, thick = line.values.get("area_m2"), line.values.get("thickness_mm")
    sizes = [f"area {area:.6g} m²"] if isinstance(area, float) else []
    sizes += [f"thickness {thick:.6g} mm"] if isinstance(thick, float) else []
    if sizes:
        parts.append(f"From the list of jobs: {', '.join(sizes)}.")
    return "\n".join(parts)


def _check(one: Body, line: Line, problems: list[Problem]) -> None:
    """Hold the body to the log's own rules; a problem is laid on the column its field came from."""
    schema = KINDS[one.kind].schema()
    for name, messages in schema.validate(one.body).items():
        column = line.columns.get({"text": "note"}.get(name, name), name)
        if column == "volume_m3" and "volume_m3" not in line.values:
            column = line.columns.get("area_m2", column)
        if not any(known.row == line.row and known.column == column for known in problems):
            why = _why(schema.fields.get(name), one.body.get(name), name, column)
            refused = said("refused", why=first_problem(messages, name)[1])
            problems.append(Problem(line.row, column, why or refused))


def _why(field: object, value: object, name: str, column: str) -> Said | None:
    """What a field of the log finds wrong, in the column's own unit; None for what only the log can say."""
    if isinstance(field, Measure | Count) and isinstance(value, int | float):
        known = COLUMNS.get(column)
        factor = known.factor if known and known.field == name else 1.0
        spans = {"value": value, "low": field.low, "high": field.high}
        return said("outside", **{part: _short(number / factor) for part, number in spans.items()})
    if isinstance(field, Text) and isinstance(value, str) and len(value) > field.longest:
        return said("too_long", count=len(value), most=field.longest)
    if isinstance(field, TimeZone) and isinstance(value, str):
        return said("zone_unknown", value=value)
    return None


def _short(number: float) -> int | float:
    """Four digits, as a person would write it."""
    rounded = float(f"{number:.4g}")
    return int(rounded) if rounded == int(rounded) else rounded
