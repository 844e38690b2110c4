"""Patios that were poured, checked and closed, one after another."""

import uuid
from datetime import timedelta
from typing import Any

from sqlalchemy import select
from tests.conftest import iso
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.store.learned_tables import ForecastMark, JobPrior, JobResult, MixPrior
from slabtide.store.session import read

MIX = {"name": "Patio mix", "cement_kg_m3": 335, "w_cm": 0.46, "design_strength_mpa": 28}
SOFT_AT = ((150, 14), (190, 11), (240, 8))
"""Minutes after the first batch, depth in mm: prints that stay deep for long tell of a slow mix."""
FIRM_AT = ((90, 5), (110, 3), (130, 2))
CLOSES = FIRST_BATCH + 30 * HOUR


def another(patio: Patio) -> Patio:
    """A new job of the same company on the same foreman's phone."""
    return Patio(patio.app, patio.client, patio.sync, patio.foreman)


def mixed(patio: Patio, plant: str | None = "Kettle Bend", name: str = "Patio mix", **more: Any) -> None:
    body = MIX | {"name": name, "aggregate": "crushed-hard", "plant": plant} | more
    patio.record("mix.chosen", body)


def checked(patio: Patio, prints: tuple[tuple[int, int], ...] = SOFT_AT) -> None:
    for minutes, depth_mm in prints:
        at = FIRST_BATCH + minutes * MINUTE
        patio.record("check.made", {"load": patio.loads[0], "kind": "footprint", "depth_mm": depth_mm}, at)


def textured(patio: Patio, begins: int = 200, ends: int = 290) -> None:
    """One bay on load 1 over the half of the slab, textured from so many minutes after the first batch."""
    bay = str(uuid.uuid5(uuid.UUID(patio.job), "bay"))
    corners = [[0, 0], [4, 0], [4, 6.5], [0, 6.5]]
    patio.record(
        "bay.drawn", {"bay": bay, "label": "West", "corners": corners, "order": 0, "load": patio.loads[0]}
    )
    for mark, minutes in (("start", begins), ("end", ends)):
        at = FIRST_BATCH + minutes * MINUTE
        patio.record("bay.worked", {"bay": bay, "step": "texture", "mark": mark}, at)


def closed(patio: Patio, days: int = 0, **mix: Any) -> str:
    """Poured, checked, textured and closed, so many days after the first; gives the closing event."""
    mixed(patio, **mix)
    patio.poured()
    checked(patio)
    textured(patio)
    patio.tick(FIRST_BATCH + 12 * HOUR)
    return close(patio, days)


def close(patio: Patio, days: int = 0) -> str:
    at = CLOSES + timedelta(days=days)
    event = patio.record("job.closed", {"outcome": None}, at)
    patio.tick(at + MINUTE)
    return event


def ahead(patio: Patio, days: int = 7, **mix: Any) -> Patio:
    """The next job: laid out and ordered, nothing poured."""
    following = another(patio)
    following.open("Next patio")
    following.outline()
    mixed(following, **mix)
    following.order(FIRST_BATCH + timedelta(days=days))
    following.days(*(iso(FIRST_BATCH + timedelta(days=days + n))[:10] for n in range(-1, 7)))
    return following


def rows(patio: Patio, table: Any) -> list[Any]:
    with patio.app.app_context(), read() as session:
        return list(session.scalars(select(table).where(table.company_id == patio.foreman.company)))


def known(patio: Patio) -> dict[tuple[str, str], MixPrior]:
    return {(row.mix_key, row.plant_key): row for row in rows(patio, MixPrior)}


def results(patio: Patio) -> dict[str, JobResult]:
    return {row.job: row for row in rows(patio, JobResult)}


def priors(patio: Patio) -> dict[str, JobPrior]:
    return {row.job: row for row in rows(patio, JobPrior)}


def marks(patio: Patio) -> list[ForecastMark]:
    return [row for row in rows(patio, ForecastMark) if row.job == patio.job]
