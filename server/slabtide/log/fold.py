"""Events to state. The fold is a function of the set of events: order, duplicates and replays never matter.

*set*: the last event by (clock, id) holds its key. *add*: events join a collection, in that order.
*retract*: hides an earlier event, unless it is hidden itself; so retracting a retract brings the event back.
"""

import re
from bisect import bisect_left, insort
from collections.abc import Iterable, Mapping
from typing import Any, Protocol

from slabtide.log.kinds import KINDS, AddTo, Retract, SetKey
from slabtide.log.state import Entry, JobState

__all__ = ["Entry", "JobFold", "JobState", "Logged", "entry_of", "fold", "key_of"]

Order = tuple[str, str]
_PLACE = re.compile(r"\{(\w+)\}")


class Logged(Protocol):
    """What the fold reads of an event: an `Event`, or a stored row with the same names."""

    @property
    def id(self) -> str: ...
    @property
    def job(self) -> str: ...
    @property
    def kind(self) -> str: ...
    @property
    def body(self) -> Mapping[str, Any]: ...
    @property
    def at(self) -> str: ...
    @property
    def clock(self) -> str: ...
    @property
    def device(self) -> str: ...
    @property
    def author(self) -> str: ...


def fold(events: Iterable[Logged], job: str | None = None) -> JobState:
    """The state of one job. Raises ValueError when events of two jobs are mixed."""
    # Latest first, every retract is in before its target: nothing is shown only to be hidden again.
    latest_first = sorted(events, key=_order, reverse=True)
    folding = JobFold(job or (latest_first[0].job if latest_first else ""))
    for event in latest_first:
        folding.add(event)
    return folding.state


def key_of(template: str, body: Mapping[str, Any]) -> str | None:
    """The key a *set* writes, or None when the body lacks a part of it."""
    parts = _PLACE.split(template)
    for index in range(1, len(parts), 2):
        value = body.get(parts[index])
        if isinstance(value, bool) or not isinstance(value, str | int) or "/" in str(value):
            return None
        parts[index] = str(value)
    return "".join(parts)


class JobFold:
    """The fold of one job, event by event: adding one costs its own key, not the whole log."""

    def __init__(self, job: str) -> None:
        self.job = job
        self._events: dict[str, Logged] = {}
        self._hidden: set[str] = set()
        self._retracts: dict[str, list[str]] = {}
        self._keys: dict[str, list[Order]] = {}
        self._set: dict[str, Entry] = {}
        self._items: dict[str, list[Order]] = {}

    @property
    def state(self) -> JobState:
        """The state now: a copy whose entries are shared."""
        items = {
            name: [entry_of(self._events[event]) for _, event in orders]
            for name, orders in self._items.items()
            if orders
        }
        return {"job": self.job, "set": dict(self._set), "items": items}

    def add(self, event: Logged) -> bool:
        """Take an event in; False when it changes nothing because it was known.

        Of two copies of one id the smaller clock stands: a server only ever lowers a clock.
        Raises ValueError for an event of another job.
        """
        if event.job != self.job:
            raise ValueError(f"event {event.id} belongs to job {event.job}, not {self.job}")
        known = self._events.get(event.id)
        if known is not None:
            if known.clock <= event.clock:
                return False
            self._drop(known)
        self._events[event.id] = event
        self._place(event)
        self._settle(event)
        return True

    def _place(self, event: Logged) -> None:
        target = _target(event)
        if target is not None:
            self._retracts.setdefault(target, []).append(event.id)
        if self._is_retracted(event):
            self._hidden.add(event.id)
        else:
            self._show(event)

    def _drop(self, event: Logged) -> None:
        self._hide(event)
        self._hidden.discard(event.id)
        del self._events[event.id]
        target = _target(event)
        if target is not None:
            self._retracts[target].remove(event.id)

    def _settle(self, event: Logged) -> None:
        """Look again at what `event` retracts, and at what that retracts, until nothing changes."""
        target = self._events.get(_target(event) or "")
        while target is not None:
            retracted = self._is_retracted(target)
            if retracted == (target.id in self._hidden):
                return
            if retracted:
                self._hidden.add(target.id)
                self._hide(target)
            else:
                self._hidden.discard(target.id)
                self._show(target)
            target = self._events.get(_target(target) or "")

    def _is_retracted(self, event: Logged) -> bool:
        return any(
            retract not in self._hidden and _order(self._events[retract]) > _order(event)
            for retract in self._retracts.get(event.id, ())
        )

    def _show(self, event: Logged) -> None:
        rule = KINDS[event.kind].rule if event.kind in KINDS else None
        if isinstance(rule, AddTo):
            insort(self._items.setdefault(rule.collection, []), _order(event))
        elif isinstance(rule, SetKey):
            key = key_of(rule.key, event.body)
            if key is not None:
                insort(self._keys.setdefault(key, []), _order(event))
                self._hold(key)

    def _hide(self, event: Logged) -> None:
        rule = KINDS[event.kind].rule if event.kind in KINDS else None
        if isinstance(rule, AddTo):
            _remove(self._items.get(rule.collection, []), _order(event))
        elif isinstance(rule, SetKey):
            key = key_of(rule.key, event.body)
            if key is not None:
                _remove(self._keys.get(key, []), _order(event))
                self._hold(key)

    def _hold(self, key: str) -> None:
        holders = self._keys.get(key)
        if holders:
            self._set[key] = entry_of(self._events[holders[-1][1]])
        else:
            self._set.pop(key, None)


def entry_of(event: Logged) -> Entry:
    """An event as the state holds it."""
    return {
        "event": event.id,
        "at": event.at,
        "author": event.author,
        "device": event.device,
        "clock": event.clock,
        "body": event.body,
        "kind": event.kind,
    }


def _order(event: Logged) -> Order:
    return event.clock, event.id


def _target(event: Logged) -> str | None:
    rule = KINDS[event.kind].rule if event.kind in KINDS else None
    target = event.body.get("event") if isinstance(rule, Retract) else None
    return target if isinstance(target, str) else None


def _remove(orders: list[Order], order: Order) -> None:
    index = bisect_left(orders, order)
    if index < len(orders) and orders[index] == order:
        del orders[index]
