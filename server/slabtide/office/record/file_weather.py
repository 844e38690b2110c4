"""The weather in the file: readings on site, days entered by hand, and the hours around the pour."""

from datetime import date

from slabtide.office.record.facts import Span, hours_in, placing, texturing
from slabtide.office.record.pages import Writing
from slabtide.office.record.paper import SOFT
from slabtide.office.record.table import table


def write_weather(page: Writing) -> None:
    """All that is known of it, and where from."""
    words = page.words
    page.paper.heading(words("weather.title"))
    if page.source.weather_label:
        key = "weather.source" if page.view.weather_notes else "weather.source.plain"
        page.paper.paragraph(words(key, label=page.source.weather_label), 8.5, SOFT)
    _readings(page)
    _days(page)
    _hours(page)


def _readings(page: Writing) -> None:
    words, say = page.words, page.amount
    page.paper.subheading(words("readings.title"))
    rows = [
        (
            page.moments.stamp(note.at),
            say(note.air_temp_c, "temp"),
            say(note.rh, "share"),
            say(note.wind_kmh, "speed"),
            say(note.cloud, "share"),
            "" if note.raining is None else words("reading.rain" if note.raining else "reading.dry"),
            note.note or "",
            page.name(note.author),
        )
        for note in page.view.weather_notes
    ]
    if not rows:
        page.paper.paragraph(words("readings.none"), colour=SOFT)
    names = ("when", "weather.air", "weather.rh", "weather.wind", "cloud", "hours.rain", "note", "who")
    table(page.paper, [words(name) for name in names], rows, more=words("more.rows"))


def _days(page: Writing) -> None:
    words, say = page.words, page.amount
    page.paper.subheading(words("days.title"))
    rows = [
        (
            page.moments.plain_day(date.fromisoformat(day.date)),
            f"{say(day.low_c, 'temp')}, {say(day.high_c, 'temp')}",
            say(day.rh, "share"),
            say(day.wind_kmh, "speed"),
            say(day.cloud, "share"),
        )
        for day in page.view.weather_days
    ]
    if not rows:
        page.paper.paragraph(words("days.none"), colour=SOFT)
    names = ("day", "day.low.high", "weather.rh", "weather.wind", "cloud")
    table(page.paper, [words(name) for name in names], rows)


def _hours(page: Writing) -> None:
    words, say, span = page.words, page.amount, placing(page.view)
    if span is None or not page.source.hours:
        return
    textured = texturing(page.view)
    around = Span(span.begins, textured.ends if textured else span.ends)
    page.paper.subheading(words("hours.title"))
    rows = [
        (
            page.moments.stamp(hour.at),
            say(hour.air_temp_c, "temp"),
            say(hour.rh, "share"),
            say(hour.wind_kmh, "speed"),
            say(hour.cloud, "share"),
            say(hour.rain_mm, "rain"),
        )
        for hour in hours_in(page.source.hours, around)
    ]
    names = ("hours.time", "weather.air", "weather.rh", "weather.wind", "cloud", "hours.rain")
    table(page.paper, [words(name) for name in names], rows)
