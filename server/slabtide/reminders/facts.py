"""What reminders rest on, taken from a job's view."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from slabtide.log.instants import read_instant
from slabtide.log.model import Bay, JobView
from slabtide.office.pour import CUT_M_PER_M2, SAW_RATE_M_PER_MIN
from slabtide.reminders.hand_work import HandLoad
from slabtide.reminders.kept import KeptTime
from slabtide.reminders.plan import Ack
from slabtide.reminders.snooze import Snooze
from slabtide.reminders.windows import Facts

AFTER_TEXTURE = ("next_days", "record")


def facts_of(view: JobView) -> Facts | None:
    """The facts of a job, or None while nobody has opened it (no time zone, so no clock to speak by)."""
    if view.opened is None:
        return None
    return Facts(
        job=view.id,
        name=view.name,
        time_zone=view.opened.time_zone,
        closed=view.closed is not None,
        placed_to=_placed(view),
        cuts_done=view.cuts_done,
        saw_length_m=_saw_length_m(view),
        saw_rate_m_per_min=(view.crew and view.crew.saw_rate_m_per_min) or SAW_RATE_M_PER_MIN,
        washed_at=_last(view.washes),
        coloured_at=_last(view.colours),
        coats_at=tuple(sorted(read_instant(coat.at) for coat in view.coats)),
        **_of_the_label(view),
        kept_times=tuple(
            KeptTime(kept.work, kept.coat, read_instant(kept.from_), read_instant(kept.to))
            for kept in view.kept_slots
        ),
        hand_loads=_hand_loads(view),
        early_entry_saw=view.crew is not None and view.crew.saw_kind == "early-entry",
    )


def acks_of(view: JobView) -> Mapping[str, Ack]:
    """Who has which reminder in hand, by reminder id."""
    return {reminder: Ack(ack.by, read_instant(ack.at), ack.via) for reminder, ack in view.acks.items()}


def snoozes_of(view: JobView) -> Mapping[str, Snooze]:
    """Which reminders someone put off, by reminder id."""
    return {
        reminder: Snooze(asked.by, read_instant(asked.at), read_instant(asked.until))
        for reminder, asked in view.snoozes.items()
    }


def _of_the_label(view: JobView) -> dict[str, Any]:
    """What the sealer's label says, where it says anything."""
    sealer = view.products.get("seal")
    told: dict[str, Any] = {}
    if sealer is not None:
        if sealer.coats is not None:
            told["coats_wanted"] = sealer.coats
        if sealer.recoat_least_h is not None:
            told["recoat_after"] = timedelta(hours=sealer.recoat_least_h)
        if sealer.least_age_h is not None:
            told["seal_age"] = timedelta(hours=sealer.least_age_h)
    return told


def _placed(view: JobView) -> tuple[datetime, ...]:
    """When placing ended, load by load; a ticket without a placement counts from its batching."""
    loads = [read_instant(load.placed.to if load.placed else load.batched_at) for load in view.loads]
    return (*loads, *(read_instant(load.placed.to) for load in view.unticketed))


def _hand_loads(view: JobView) -> tuple[HandLoad, ...]:
    """Every load in place, and how far its hand work is. Later work takes all of it as done: of the job its
    phase, of a load a test cut, of a bay its touch-up."""
    placed = [(load.id, load.number) for load in view.loads if load.placed]
    numbers: dict[str, int | None] = dict(placed) | {load.id: None for load in view.unticketed}
    only = next(iter(numbers)) if len(numbers) == 1 else None
    after = view.phase in AFTER_TEXTURE
    loads_of_bays = {bay.id: bay.load for bay in view.bays}
    tested = {test.load or loads_of_bays.get(test.bay or "") for test in view.test_cuts}
    found = []
    for name, number in numbers.items():
        bays = [bay for bay in view.bays if (bay.load if bay.load in numbers else only) == name]
        later = after or bool(tested & {name, None})
        checks = [read_instant(check.at) for check in view.checks if check.load == name]
        found.append(
            HandLoad(
                name,
                number,
                begun=later or any(_begun(bay) for bay in bays),
                textured=later or (bool(bays) and all(_ended(bay) for bay in bays)),
                can_be_ticked=bool(bays),
                checked_at=max(checks, default=None),
            )
        )
    return tuple(found)


def _begun(bay: Bay) -> bool:
    step = bay.steps.get("texture")
    return _ended(bay) or (step is not None and step.start is not None)


def _ended(bay: Bay) -> bool:
    step, after = bay.steps.get("texture"), bay.steps.get("touch_up")
    touched_up = after is not None and (after.start is not None or after.end is not None)
    return touched_up or (step is not None and step.end is not None)


def _saw_length_m(view: JobView) -> float:
    if view.crew and view.crew.saw_length_m:
        return view.crew.saw_length_m
    return view.slab.area_m2 * CUT_M_PER_M2 if view.slab else 0.0


def _last(leaves: tuple[object, ...]) -> datetime | None:
    times = [read_instant(leaf.at) for leaf in leaves]  # type: ignore[attr-defined]
    return max(times, default=None)
