"""The job itself: opening, people, weather, notes, stages, closing."""

from typing import Any

from marshmallow import ValidationError, validates_schema

from slabtide.log.kinds.declare import CREW, FOREMAN, OFFICE, AddTo, Kind, SetKey
from slabtide.log.kinds.fields import (
    Body,
    Count,
    Day,
    Flag,
    Instant,
    Measure,
    OneOf,
    Text,
    TimeZone,
    ident,
    photo,
)
from slabtide.log.kinds.shapes import Rows
from slabtide.log.model import PHASES

USES = ("patio", "walk", "pool_deck", "drive", "other")
SAWS = ("conventional", "early-entry")
ACKNOWLEDGED_VIA = ("notification", "app", "board")


class JobOpened(Body):
    name = Text(80)
    place = Text(200, optional=True)
    latitude_deg = Measure(-90, 90, "°")
    longitude_deg = Measure(-180, 180, "°")
    time_zone = TimeZone()
    use = OneOf(USES)
    customer = Text(120, optional=True)


class CrewAssigned(Body):
    people = Count(1, 20)
    mats = Count(0, 60, optional=True)
    mat_area_m2 = Measure(0.02, 5, "m²", optional=True)
    lay_minutes = Measure(0.1, 60, "min", optional=True)
    saw_kind = OneOf(SAWS, optional=True)
    saw_length_m = Measure(0, 5000, "m", optional=True)
    saw_rate_m_per_min = Measure(0.02, 30, "m/min", optional=True)
    lead = ident("PersonId", optional=True)
    crew_name = Text(40, optional=True)
    saw_name = Text(40, optional=True)
    sprayer_name = Text(40, optional=True)


class PlannedDay(Body):
    date = Day()
    low_c = Measure(-40, 60, "°C")
    high_c = Measure(-40, 60, "°C")
    rh = Measure(0, 1, hint="0.65 is 65 %")
    wind_kmh = Measure(0, 200, "km/h")
    cloud = Measure(0, 1, hint="0 clear, 1 overcast")

    @validates_schema(skip_on_field_errors=True)
    def high_not_below_low(self, data: dict[str, Any], **kwargs: Any) -> None:
        if data["high_c"] < data["low_c"]:
            raise ValidationError("The high is below the low. Swap them.", "high_c")


class WeatherPlanned(Body):
    days = Rows(PlannedDay, "PlannedDay", 1, 14)

    @validates_schema(skip_on_field_errors=True)
    def each_day_once(self, data: dict[str, Any], **kwargs: Any) -> None:
        dates = [day["date"] for day in data["days"]]
        twice = sorted({day for day in dates if dates.count(day) > 1})
        if twice:
            raise ValidationError(f"{twice[0]} is there twice. Keep one row for each day.", "days")


class WeatherNoted(Body):
    air_temp_c = Measure(-40, 60, "°C", optional=True)
    rh = Measure(0, 1, hint="0.65 is 65 %", optional=True)
    wind_kmh = Measure(0, 200, "km/h", optional=True)
    cloud = Measure(0, 1, hint="0 clear, 1 overcast", optional=True)
    raining = Flag(optional=True)
    note = Text(500, optional=True)

    @validates_schema(skip_on_field_errors=True)
    def something_noted(self, data: dict[str, Any], **kwargs: Any) -> None:
        if all(value is None for value in data.values()):
            raise ValidationError("Nothing was noted. Enter at least one reading.", "air_temp_c")


class PhotoTaken(Body):
    photo = photo()
    caption = Text(500, optional=True)
    pin = ident("PinId", optional=True)
    bay = ident("BayId", optional=True)


class StageReached(Body):
    phase = OneOf(PHASES)


class ReminderAcknowledged(Body):
    reminder = ident("ReminderId")
    via = OneOf(ACKNOWLEDGED_VIA)


class ReminderSnoozed(Body):
    reminder = ident("ReminderId")
    until = Instant()


class NoteWritten(Body):
    text = Text(2000)


class JobClosed(Body):
    outcome = Text(2000, optional=True)


JOB_KINDS = (
    Kind("job.opened", JobOpened, (FOREMAN, OFFICE), SetKey("job")),
    Kind("crew.assigned", CrewAssigned, (FOREMAN, OFFICE), SetKey("crew")),
    Kind("weather.planned", WeatherPlanned, (FOREMAN, OFFICE), SetKey("weather")),
    Kind("weather.noted", WeatherNoted, (CREW, FOREMAN), AddTo("weather_notes")),
    Kind("photo.taken", PhotoTaken, (CREW, FOREMAN, OFFICE), AddTo("photos")),
    Kind("stage.reached", StageReached, (CREW, FOREMAN), SetKey("stage")),
    Kind("reminder.acknowledged", ReminderAcknowledged, (CREW, FOREMAN, OFFICE), SetKey("acks/{reminder}")),
    Kind("reminder.snoozed", ReminderSnoozed, (CREW, FOREMAN, OFFICE), SetKey("snoozes/{reminder}")),
    Kind("note.written", NoteWritten, (CREW, FOREMAN, OFFICE), AddTo("notes")),
    Kind("job.closed", JobClosed, (FOREMAN, OFFICE), SetKey("closed")),
)
