"""A person's calendar as text: iCalendar (RFC 5545), every time in UTC."""

import re
from collections.abc import Iterable
from datetime import timedelta

from icalendar import Alarm as AlarmPart
from icalendar import Calendar, Event

from slabtide.reminders.calendar_events import Alarm, Entry

PRODUCT = "-//Slabtide//Pours and work windows//EN"
REFRESH = timedelta(hours=1)
# RFC 5545 allows no control character but tab in text; a line break is escaped, the rest dropped.
_CONTROLS = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]")


def calendar_text(name: str, address: str, entries: Iterable[Entry]) -> bytes:
    """The whole calendar. `address`: where the app is, for links."""
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", plain(name))
    calendar.add("refresh-interval", REFRESH, parameters={"VALUE": "DURATION"})
    for entry in entries:
        calendar.add_component(_event(entry, address))
    text: bytes = calendar.to_ical()
    return text


def plain(text: str) -> str:
    """The text without control characters.

    >>> plain("Slab\\r\\nEND:VCALENDAR\\x00")
    'Slab\\nEND:VCALENDAR'
    """
    return _CONTROLS.sub("", text)


def _event(entry: Entry, address: str) -> Event:
    event = Event()
    event.add("uid", entry.uid)
    event.add("dtstamp", entry.changed_at.replace(microsecond=0))
    event.add("last-modified", entry.changed_at.replace(microsecond=0))
    event.add("sequence", entry.sequence)
    event.add("dtstart", entry.start)
    event.add("dtend", entry.end.replace(microsecond=0))
    event.add("summary", plain(entry.title))
    event.add("description", plain(entry.words))
    event.add("url", f"{address}/#/job/{entry.job}/{entry.page}")
    event.add("status", "CANCELLED" if entry.cancelled else "CONFIRMED")
    event.add("transp", "TRANSPARENT")
    if entry.place:
        event.add("location", plain(entry.place))
    for alarm in entry.alarms:
        event.add_component(_alarm(alarm, entry))
    return event


def _alarm(alarm: Alarm, entry: Entry) -> AlarmPart:
    """Counted from the start, since that is what calendar programs agree on."""
    part = AlarmPart()
    part.add("action", "DISPLAY")
    part.add("description", plain(alarm.words))
    part.add("trigger", alarm.at - entry.start)
    return part
