"""When to tell whom about a piece of work: pure rules from windows to reminders.

Surface checks and texturing answer to the concrete, load by load:
  heads_up   20 min before a check, 30 min before the mats; for the first load, and for one that opens an hour
             and a half after the one before: in between the people are there
  open       at the likely opening; texturing that has begun needs none
  last_call  of a check: 10 min before the likely opening of texture; of texture: when its window counts as
             closing on every screen and as a tone on the phone
  missed     of a check: at the late opening of texture; of texture: at the likely close
Where a load's bays are not drawn nobody can tick its texturing: it has no last call then, and neither of the
two is ever called missed. Of loads with nothing ticked only the first is called missed.
Sawing answers to the concrete, day and night:
  heads_up   an hour before the likely opening
  open       at the likely opening; sooner, though never before the early one, where the window is so short
             that the last call would come first
  last_call  before the early close, with time for the whole cut and 45 minutes besides; by the plan of the
             cuts where there is one: 45 minutes before it must start
  missed     at the likely close
Washing, colouring and sealing are day work: their times move to working hours (6:30 to 17:00 local), and
the heads-up comes at 18:00 the evening before. A time that somebody kept is the opening, whatever the hour;
where the weather took it away, the next best is. Every time is on a whole minute.
Quiet hours (21:00 to 6:00 local) hold a heads-up. Where the hold would outlast the opening, it is due before
the quiet hours instead, at 20:45. An open, a last call and a missed are never held.
"""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from slabtide.reminders.contract import Spec, Stage, WorkWindow
from slabtide.reminders.hand_work import HandWindow, hand_windows
from slabtide.reminders.kept import as_kept
from slabtide.reminders.windows import Facts, windows_ahead

HEADS_UP_BEFORE = timedelta(minutes=60)
LAST_CALL_BEFORE = timedelta(minutes=45)
LONGEST_CUT = timedelta(hours=3)
EXPIRES_AFTER = timedelta(hours=12)
OPEN_ENDED_FOR = timedelta(days=3)
QUIET_FROM, QUIET_TO = time(21, 0), time(6, 0)
BEFORE_QUIET = time(20, 45)
WORK_FROM, WORK_TO = time(6, 30), time(17, 0)
EVENING = time(18, 0)
SLOT_WITHIN = timedelta(hours=48)
HAND_HEADS_UP = {"check": timedelta(minutes=20), "texture": timedelta(minutes=30)}
CHECK_LAST_CALL = timedelta(minutes=10)
HAND_EXPIRES_AFTER = timedelta(hours=3)
CLOSING_SHARE, CLOSING_LEAST, CLOSING_MOST = 0.2, timedelta(minutes=10), timedelta(minutes=60)
_LEAST_STEP = timedelta(minutes=5)


def derive(facts: Facts, timeline: Mapping[str, Any] | None) -> list[Spec]:
    """Every reminder the job should have now, in order of window and stage.

    facts -- what the log says; timeline -- the engine's JSON answer, or None when there is none
    """
    zone = ZoneInfo(facts.time_zone)
    specs: list[Spec] = []
    if not facts.closed:
        for work in hand_windows(facts.hand_loads, timeline):
            specs += hand_stages(work, zone)
    for window in windows_ahead(facts, timeline):
        if window.what == "saw":
            cut = timedelta(minutes=facts.saw_length_m / facts.saw_rate_m_per_min)
            specs += saw_stages(window, min(cut, LONGEST_CUT), zone, _start_by(timeline))
        else:
            watched = as_kept(window, facts.kept_times, timeline)
            specs += day_stages(watched, _slot_start(watched, timeline), zone)
    return specs


def hand_stages(work: HandWindow, zone: ZoneInfo) -> Iterator[Spec]:
    """The stages of a surface check or of texturing one load."""
    window = work.window
    opens, closes = window.opens, window.closes
    ends = _hand_ends(window)
    expires = ends + HAND_EXPIRES_AFTER
    if not work.begun:
        if work.first:
            due = heads_up_due(opens.likely - HAND_HEADS_UP[window.what], opens.likely, zone)
            yield _spec(window, "heads_up", due, expires)
        yield _spec(window, "open", opens.likely, expires)
    if closes is None or (window.what == "texture" and not work.can_be_ticked):
        return
    last = closes.likely - CHECK_LAST_CALL if window.what == "check" else closing_from(window)
    last = max(last, opens.likely + _LEAST_STEP)
    yield _spec(window, "last_call", last, expires)
    if work.can_be_ticked and work.may_be_missed:
        yield _spec(window, "missed", max(ends, last + _LEAST_STEP), expires)


def closing_from(window: WorkWindow) -> datetime:
    """When a window starts to count as closing: the last fifth before its early close, never under ten
    minutes or over an hour, and not before it is likely open. The phone's screens and tones go by it too."""
    assert window.closes is not None
    opens, safe = window.opens.likely, window.closes.early
    lead = min(CLOSING_MOST, max(CLOSING_LEAST, CLOSING_SHARE * (safe - opens)))
    return max(opens, safe - lead)


def _hand_ends(window: WorkWindow) -> datetime:
    if window.closes is None:
        return window.opens.late
    return window.closes.late if window.what == "check" else window.closes.likely


def saw_stages(
    window: WorkWindow, cut: timedelta, zone: ZoneInfo, start_by: datetime | None = None
) -> Iterator[Spec]:
    """The stages of sawing; `cut` is how long the whole cut takes, `start_by` when it must start by the plan
    of its cuts, where there is one."""
    opens, closes = window.opens, window.closes
    if closes is None:
        opened, ends = opens.likely, opens.likely + OPEN_ENDED_FOR
    else:
        last = (start_by or closes.early - cut) - LAST_CALL_BEFORE
        opened, ends = max(opens.early, min(opens.likely, last - _LEAST_STEP)), closes.likely
    expires = ends + EXPIRES_AFTER
    yield _spec(window, "heads_up", heads_up_due(opened - HEADS_UP_BEFORE, opened, zone), expires)
    yield _spec(window, "open", opened, expires)
    if closes is not None:
        yield _spec(window, "last_call", max(last, opened + _LEAST_STEP), expires)
        yield _spec(window, "missed", ends, expires)


def day_stages(window: WorkWindow, slot_start: datetime | None, zone: ZoneInfo) -> Iterator[Spec]:
    """The stages of work that waits for daylight; `slot_start` is when the weather first suits it."""
    opened = max(window.opens.likely, slot_start or window.opens.likely)
    kept = window.opens.kept
    if kept is None or (kept.why is not None and not kept.next_best):
        opened = working_time(opened, zone)
    closes = window.closes
    ends = working_time(closes.likely, zone) if closes else opened + OPEN_ENDED_FOR
    expires = ends + EXPIRES_AFTER
    eve = _local(opened, EVENING, zone, days=-1)
    yield _spec(window, "heads_up", eve, expires)
    yield _spec(window, "open", opened, expires)
    if closes is not None and ends > opened:
        last = working_time_before(closes.likely - timedelta(hours=4), zone)
        yield _spec(window, "last_call", max(last, opened + timedelta(hours=1)), expires)
        yield _spec(window, "missed", ends, expires)


def heads_up_due(due: datetime, opened: datetime, zone: ZoneInfo) -> datetime:
    """When a heads-up goes: its own time, or the end of the quiet hours, or before them."""
    if not is_quiet(due, zone):
        return due
    held = quiet_ends(due, zone)
    if held < opened:
        return held
    evening = due.astimezone(zone)
    days = -1 if evening.time() < QUIET_TO else 0
    return _local(due, BEFORE_QUIET, zone, days=days)


def is_quiet(at: datetime, zone: ZoneInfo) -> bool:
    """Whether it is night by the job's own clock."""
    local = at.astimezone(zone).time()
    return local >= QUIET_FROM or local < QUIET_TO


def quiet_ends(at: datetime, zone: ZoneInfo) -> datetime:
    """When the quiet hours around `at` end."""
    return _local(at, QUIET_TO, zone, days=1 if at.astimezone(zone).time() >= QUIET_FROM else 0)


def working_time(at: datetime, zone: ZoneInfo) -> datetime:
    """`at`, or the start of the next working day when it falls outside working hours."""
    local = at.astimezone(zone).time()
    if local < WORK_FROM:
        return _local(at, WORK_FROM, zone)
    return at if local <= WORK_TO else _local(at, WORK_FROM, zone, days=1)


def working_time_before(at: datetime, zone: ZoneInfo) -> datetime:
    """`at`, or the last working moment before it."""
    local = at.astimezone(zone).time()
    if local > WORK_TO:
        return _local(at, WORK_TO, zone)
    return at if local >= WORK_FROM else _local(at, WORK_TO, zone, days=-1)


def _local(at: datetime, clock: time, zone: ZoneInfo, days: int = 0) -> datetime:
    """That time by the wall clock, on the local day of `at` or days from it."""
    day = at.astimezone(zone).date() + timedelta(days=days)
    return datetime.combine(day, clock, tzinfo=zone).astimezone(UTC)


def _start_by(timeline: Mapping[str, Any] | None) -> datetime | None:
    """When the plan of the cuts must start, where there is one with cuts left."""
    plan = (timeline or {}).get("saw_plan")
    return datetime.fromisoformat(plan["start_by"]).astimezone(UTC) if plan and plan["start_by"] else None


def _slot_start(window: WorkWindow, timeline: Mapping[str, Any] | None) -> datetime | None:
    """The first hour in which the weather suits, where the engine found one near the opening."""
    slots = ((timeline or {}).get("slots") or {}).get(window.what) or ()
    starts = [datetime.fromisoformat(slot["from"]) for slot in slots]
    kept = window.opens.kept
    if kept is not None and (kept.why is None or kept.next_best):
        return None
    near = [at for at in starts if window.opens.likely <= at <= window.opens.likely + SLOT_WITHIN]
    return min(near, default=None)


def _spec(window: WorkWindow, stage: Stage, due: datetime, expires: datetime) -> Spec:
    return Spec(
        window.what,
        window.subject,
        stage,
        _whole_minute(due),
        window.opens,
        window.closes,
        _whole_minute(expires),
    )


def _whole_minute(at: datetime) -> datetime:
    return at.astimezone(UTC).replace(second=0, microsecond=0)
