"""What docs/reminders.md says of each kind and stage, read from its tables, and a day to hold it against."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from tests.reminders.conftest import PLACED, facts, saw_timeline, when

from slabtide.reminders.contract import Spec
from slabtide.reminders.hand_work import HandLoad
from slabtide.reminders.rules import derive

PAGE = Path(__file__).parents[2] / "docs" / "reminders.md"
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
EDGES, TEXTURE, SET = PLACED + 100 * MINUTE, PLACED + 2 * HOUR, PLACED + 4 * HOUR
WASHED = PLACED + 26 * HOUR
CUT = timedelta(minutes=22)  # 22 m at 1 m/min, as the facts of these tests have it
STAGES = {"coming up": "heads_up", "open": "open", "last call": "last_call", "missed": "missed"}
KINDS = {
    "surface check": "check",
    "texture": "texture",
    "saw": "saw",
    "wash": "wash",
    "second color": "colour",
    "seal": "seal",
}


@dataclass(frozen=True)
class Row:
    """One line of the table of rules, its cells by the table's own heads."""

    what: str
    stage: str
    cells: dict[str, str]


def table(title: str) -> Iterator[dict[str, str]]:
    """The lines of the table under a heading of the page."""
    part = PAGE.read_text().split(f"\n## {title}\n")[1].split("\n## ")[0]
    lines = [
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in part.splitlines()
        if line.startswith("|")
    ]
    heads = lines[0]
    for line in lines[2:]:
        yield dict(zip(heads, line, strict=True))


def rows(title: str) -> list[Row]:
    return [Row(KINDS[line["kind"]], STAGES[line["stage"]], line) for line in table(title)]


def a_day() -> dict[tuple[str, str], Spec]:
    """One reminder of every kind and stage, on a day of which no rule of a corner case speaks."""
    load = HandLoad("1", 1, begun=False, textured=False, can_be_ticked=True, checked_at=None)
    timeline = saw_timeline()
    timeline["loads"][0]["windows"] |= {
        "edge": {"opens": when(EDGES, 20), "closes": when(SET, 20)},
        "texture": {"opens": when(TEXTURE, 20), "closes": when(SET, 30)},
    }
    fresh = derive(facts(hand_loads=(load,)), timeline)
    washed = derive(facts(washed_at=WASHED, seal_age=timedelta(hours=60), cuts_done=True), None)
    return {(spec.what, spec.stage): spec for spec in [*fresh, *washed]}


def moment(said: str, spec: Spec, opened: datetime) -> datetime:
    """What a cell like "likely close - 4 h" comes to. `opened`: when the stage "open" of that work is due."""
    anchor, *steps = re.split(r" (?=[+−] )", said)
    at = {
        "early opening": spec.opens.early,
        "likely opening": spec.opens.likely,
        "late opening": spec.opens.late,
        "the opening": opened,
        "18:00 the evening before": evening_before(opened),
    }.get(anchor)
    if spec.closes is not None and at is None:
        fifth = (spec.closes.early - spec.opens.likely) / 5
        at = {
            "early close": spec.closes.early,
            "likely close": spec.closes.likely,
            "late close": spec.closes.late,
            "closing": spec.closes.early - min(HOUR, max(10 * MINUTE, fifth)),
        }[anchor]
    assert at is not None, said
    for step in steps:
        at += by(step)
    return at


def by(step: str) -> timedelta:
    """ "− 45 min", "+ 3 h", "− the cut", "+ 3 days"."""
    sign, what = (1 if step[0] == "+" else -1), step[2:]
    if what == "the cut":
        return sign * CUT
    number, unit = what.split(" ")
    return sign * int(number) * {"min": MINUTE, "h": HOUR, "days": timedelta(days=1)}[unit]


def evening_before(opened: datetime) -> datetime:
    """18:00 in Chicago (five hours behind UTC in July) on the day before."""
    local = opened - 5 * HOUR
    return local.replace(hour=18, minute=0) - timedelta(days=1) + 5 * HOUR
