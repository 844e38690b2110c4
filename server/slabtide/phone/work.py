"""The one call the phone makes: a job's folded log and the hours it was sent in, its outlook out."""

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from slabtide.engine.solved import Solved
from slabtide.log.instants import read_instant, write_instant
from slabtide.log.view import view_job
from slabtide.office.assumed import as_told
from slabtide.office.decide.asked import advice_of, what_if_of
from slabtide.office.learned.known import prior_told
from slabtide.office.working import last_times_stay, of_then, work_out
from slabtide.phone.reminding import reminders_of
from slabtide.weather.contract import HourlySeries
from slabtide.weather.packed import unpack

_solved = Solved()
"""The heat this worker solved, for its next questions: after an entry most of it is asked for again."""


def work(asked: Mapping[str, Any], solved: Solved | None = None) -> dict[str, Any]:
    """The outlook of one job, as the server would tell it.

    asked -- {"company", "now", "state": the folded log, "hours": packed hours or None,
    "told": the job's reminders as last heard, "last": {"timeline", "planned", "computed_at"} or None,
    "learned": {"prior" of the job, "mixes"} as last heard, or None}
    solved -- heat that was solved for earlier questions, and where this one's is kept
    Returns {"job", "computed_at", "weather", "problem", "planned", "assumptions", "assumed", "timeline",
    "prior", "reminders", "recompute_after"}. Where a problem hides the times of concrete that
    lies there, the last good ones stay with their own `computed_at`, and the problem says so.
    """
    view = view_job(asked["state"])
    now = read_instant(asked["now"])
    prior = prior_told(asked.get("learned"), view)
    worked = work_out(
        view, lambda start, end: unpack(asked["hours"], start, end), now, prior=prior, solved=solved
    )
    problem = worked.problem.as_json() if worked.problem else None
    last = asked.get("last")
    timeline, planned, computed_at = worked.timeline, worked.planned, write_instant(now)
    had_times = bool(last and last["timeline"] and not last["planned"])
    if problem and last and last_times_stay(view, worked, had_times):
        timeline, computed_at = last["timeline"], last["computed_at"]
        problem = of_then(problem, computed_at)
    reminders = reminders_of(view, None if planned else timeline, asked["told"], asked["company"], now)
    return {
        "job": view.id,
        "computed_at": computed_at,
        "weather": worked.weather,
        "problem": problem,
        "planned": planned,
        "timeline": timeline,
        "prior": prior.as_json() if prior else None,
        "reminders": reminders,
        "recompute_after": write_instant(worked.recompute_after) if worked.recompute_after else None,
    } | as_told(worked.assumptions)


def decide(asked: Mapping[str, Any], solved: Solved | None = None) -> dict[str, Any]:
    """The answer to a foreman's question, as the server would give it.

    asked -- {"decide": "what_if" or "advice", "now", "state", "hours", "learned" (as for `work`), "changes"
    (of a what-if)}
    solved -- as for `work`
    """
    view, now = view_job(asked["state"]), read_instant(asked["now"])

    def stored(start: datetime, end: datetime) -> HourlySeries | None:
        return unpack(asked["hours"], start, end)

    prior = prior_told(asked.get("learned"), view)
    if asked["decide"] == "advice":
        return advice_of(view, stored, now, prior)
    return what_if_of(view, stored, now, asked["changes"], prior, solved)


def work_text(asked: str) -> str:
    """`work`, or `decide` where that is asked, JSON text in and JSON text out."""
    question = json.loads(asked)
    found = decide(question, _solved) if "decide" in question else work(question, _solved)
    return json.dumps(found, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
