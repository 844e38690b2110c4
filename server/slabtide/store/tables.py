"""Every table of the product.

`company_id` stands first in every key, so that the data can be split by company. Identifiers are UUID text.
Two tables belong to the installation and not to a company: `Meta` and `JoinAttempt`.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, ClassVar

from sqlalchemy import JSON, ForeignKey, ForeignKeyConstraint, Index, MetaData, String, Text, UniqueConstraint
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

from slabtide.store.types import UtcDateTime

# Constraints need names that do not depend on the database, or a later migration cannot find them.
NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}


class Base(DeclarativeBase):
    """The parent of all tables: what Python types become in the database."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        datetime: UtcDateTime(),
        dict[str, Any]: JSON(none_as_null=True),
        list[Any]: JSON(none_as_null=True),
        str: String(),
    }


class Meta(Base):
    """Facts about this installation: `epoch` (changes on restore), `invite_salt`."""

    __tablename__ = "meta"
    key: Mapped[str] = mapped_column(String(40), primary_key=True)
    value: Mapped[str] = mapped_column(Text)


class Company(Base):
    """A contractor. Nothing of one company is ever seen by another."""

    __tablename__ = "company"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    name: Mapped[str] = mapped_column(String(80))
    created_at: Mapped[datetime]


class CompanyCounter(Base):
    """The last event number given in a company. Locking this row puts a company's writers in line."""

    __tablename__ = "company_counter"
    company_id: Mapped[str] = mapped_column(
        String(36), ForeignKey("company.company_id", ondelete="CASCADE"), primary_key=True
    )
    seq: Mapped[int] = mapped_column(default=0)


class Person(Base):
    """Someone who works for the company. `role` is crew, foreman or office; `language` en or es."""

    __tablename__ = "person"
    company_id: Mapped[str] = mapped_column(
        String(36), ForeignKey("company.company_id", ondelete="CASCADE"), primary_key=True
    )
    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    name: Mapped[str] = mapped_column(String(80))
    role: Mapped[str] = mapped_column(String(12))
    language: Mapped[str] = mapped_column(String(2), default="en")
    created_at: Mapped[datetime]


class Device(Base):
    """A phone or desk browser that has joined. Only the hash of its token is kept."""

    __tablename__ = "device"
    __table_args__ = (
        ForeignKeyConstraint(
            ["company_id", "person_id"], ["person.company_id", "person.id"], ondelete="CASCADE"
        ),
        UniqueConstraint("company_id", "token_sha256"),
        Index(None, "company_id", "person_id"),
    )
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    person_id: Mapped[str] = mapped_column(String(36))
    name: Mapped[str] = mapped_column(String(80))
    token_sha256: Mapped[str] = mapped_column(String(64))
    created_at: Mapped[datetime]
    revoked_at: Mapped[datetime | None]
    last_heard_at: Mapped[datetime | None]
    unsent: Mapped[int] = mapped_column(default=0)
    oldest_unsent_at: Mapped[datetime | None]


class Invite(Base):
    """A one-time code that lets a device in. `code_hash` is salted and slow, since the code is short."""

    __tablename__ = "invite"
    __table_args__ = (UniqueConstraint("code_hash"),)
    company_id: Mapped[str] = mapped_column(
        String(36), ForeignKey("company.company_id", ondelete="CASCADE"), primary_key=True
    )
    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    code_hash: Mapped[str] = mapped_column(String(64))
    role: Mapped[str] = mapped_column(String(12))
    person_id: Mapped[str | None] = mapped_column(String(36))
    created_by: Mapped[str | None] = mapped_column(String(36))
    created_at: Mapped[datetime]
    expires_at: Mapped[datetime]
    spent_at: Mapped[datetime | None]
    spent_by: Mapped[str | None] = mapped_column(String(36))


class JoinAttempt(Base):
    """A wrong code, and where it came from: what the limit on guessing counts."""

    __tablename__ = "join_attempt"
    __table_args__ = (Index(None, "at"), Index(None, "address", "at"))
    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    address: Mapped[str] = mapped_column(String(64))
    at: Mapped[datetime]


class Event(Base):
    """One immutable line of the field log. Times are the wire's own text and read back to the letter."""

    __tablename__ = "event"
    __table_args__ = (
        UniqueConstraint("company_id", "id"),
        Index(None, "company_id", "job", "seq"),
        {"sqlite_with_rowid": False},
    )
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    seq: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    id: Mapped[str] = mapped_column(String(36))
    job: Mapped[str] = mapped_column(String(36))
    kind: Mapped[str] = mapped_column(String(40))
    body: Mapped[dict[str, Any]]
    at: Mapped[str] = mapped_column(String(24))
    clock: Mapped[str] = mapped_column(String(64))
    device: Mapped[str] = mapped_column(String(36))
    author: Mapped[str] = mapped_column(String(36))
    raw_at: Mapped[str | None] = mapped_column(String(24))
    received_at: Mapped[str] = mapped_column(String(24))


class JobMark(Base):
    """Whether a job's outlook is behind its log.

    `version` rises with each mark, so that a worker clears only the mark it has worked off. `recompute_after`
    asks for another look at that time though no event came. `state` is the worker's own notebook.
    """

    __tablename__ = "job_mark"
    __table_args__ = (Index(None, "dirty", "dirty_since"), Index(None, "recompute_after"))
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    job: Mapped[str] = mapped_column(String(36), primary_key=True)
    dirty: Mapped[bool] = mapped_column(default=True)
    dirty_since: Mapped[datetime | None]
    version: Mapped[int] = mapped_column(default=1)
    recompute_after: Mapped[datetime | None]
    state: Mapped[dict[str, Any] | None]


class JobOutlook(Base):
    """The last computed timeline of a job, or the problem that stands in its way."""

    __tablename__ = "job_outlook"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    job: Mapped[str] = mapped_column(String(36), primary_key=True)
    computed_at: Mapped[datetime]
    weather: Mapped[dict[str, Any]]
    problem: Mapped[dict[str, Any] | None]
    timeline: Mapped[dict[str, Any] | None]
    planned: Mapped[bool] = mapped_column(default=False)
    assumptions: Mapped[list[Any] | None]
    input_hash: Mapped[str] = mapped_column(String(64))


class Reminder(Base):
    """A thing to be told about a job at a time. `id` follows from job, what, subject and stage.

    `revision` rises with each change of its times and of the work's standing. `snooze` is what a person asked
    for; `snoozed_until` what comes of it: until then nothing is sent. `noted_due`: the due time its steps
    last told of.
    """

    __tablename__ = "reminder"
    __table_args__ = (
        Index(None, "company_id", "job"),
        Index(None, "state", "due"),
        Index(None, "state", "expires"),
    )
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    job: Mapped[str] = mapped_column(String(36))
    what: Mapped[str] = mapped_column(String(12))
    subject: Mapped[str] = mapped_column(String(40), default="")
    stage: Mapped[str] = mapped_column(String(12))
    due: Mapped[datetime]
    opens: Mapped[dict[str, Any]]
    closes: Mapped[dict[str, Any] | None]
    expires: Mapped[datetime]
    state: Mapped[str] = mapped_column(String(14))
    audience: Mapped[list[Any] | None]
    escalation: Mapped[int] = mapped_column(default=0)
    moved_from: Mapped[datetime | None]
    moved_why: Mapped[str | None] = mapped_column(String(12))
    revision: Mapped[int] = mapped_column(default=0)
    snooze: Mapped[dict[str, Any] | None]
    snoozed_until: Mapped[datetime | None]
    sent_due: Mapped[datetime | None]
    noted_due: Mapped[datetime | None]
    title: Mapped[dict[str, Any]]
    words: Mapped[dict[str, Any]]
    ack: Mapped[dict[str, Any] | None]
    created_at: Mapped[datetime]
    updated_at: Mapped[datetime]


class ReminderStep(Base):
    """One thing that happened to a reminder. Only ever added: together they are its life.

    `subscription_id`: where it was on its way to, for what befell one delivery.
    """

    __tablename__ = "reminder_step"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    reminder_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    at: Mapped[datetime]
    step: Mapped[str] = mapped_column(String(12))
    subscription_id: Mapped[str | None] = mapped_column(String(36))
    detail: Mapped[dict[str, Any] | None]


class BoardRow(Base):
    """What the board shows of a job, worked out when it changes: a board of thousands is to be read quickly.

    `stale_at`: when time alone changes it. `search` is the name and place in plain small letters.
    `due` and `closes` are of what is next: its time, and its early close.
    """

    __tablename__ = "board_row"
    __table_args__ = (Index(None, "stale_at"), Index(None, "company_id", "open"))
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    job: Mapped[str] = mapped_column(String(36), primary_key=True)
    open: Mapped[bool] = mapped_column(default=True)
    stale_at: Mapped[datetime | None]
    name: Mapped[str] = mapped_column(String(80), default="")
    search: Mapped[str] = mapped_column(Text, default="")
    phase: Mapped[str] = mapped_column(String(12), default="")
    pour_at: Mapped[datetime | None]
    due: Mapped[datetime | None]
    closes: Mapped[datetime | None]
    next_stage: Mapped[str | None] = mapped_column(String(12))
    next_state: Mapped[str | None] = mapped_column(String(14))
    trouble: Mapped[bool] = mapped_column(default=False)
    devices: Mapped[list[Any] | None]
    shown: Mapped[dict[str, Any] | None]


class PushSubscription(Base):
    """Where a device's push service takes messages. Retired, never deleted, so that the office sees why."""

    __tablename__ = "push_subscription"
    __table_args__ = (
        UniqueConstraint("company_id", "endpoint"),
        Index(None, "company_id", "device"),
    )
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    id: Mapped[str] = mapped_column(String(36), primary_key=True)
    device: Mapped[str] = mapped_column(String(36))
    endpoint: Mapped[str] = mapped_column(String(1000))
    p256dh: Mapped[str] = mapped_column(String(200))
    auth: Mapped[str] = mapped_column(String(100))
    created_at: Mapped[datetime]
    retired_at: Mapped[datetime | None]
    why: Mapped[str | None] = mapped_column(String(200))


class Delivery(Base):
    """One reminder on its way to one subscription: the outbox of Web Push.

    `due_key` is the due time it was made for, so that a moved reminder makes a new row and a repeated
    derivation does not.
    """

    __tablename__ = "delivery"
    __table_args__ = (Index(None, "state", "next_try_at"),)
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    reminder_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    subscription_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    due_key: Mapped[str] = mapped_column(String(40), primary_key=True)
    state: Mapped[str] = mapped_column(String(12))
    attempts: Mapped[int] = mapped_column(default=0)
    next_try_at: Mapped[datetime | None]
    lease_until: Mapped[datetime | None]
    claimed_by: Mapped[str | None] = mapped_column(String(80))
    status: Mapped[int | None]
    error: Mapped[str | None] = mapped_column(String(400))
    created_at: Mapped[datetime]
    sent_at: Mapped[datetime | None]


class WeatherHour(Base):
    """One stored hour of weather at a place: a job's id for a file's hours, a rounded position for a
    forecast's."""

    __tablename__ = "weather_hour"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    place: Mapped[str] = mapped_column(String(80), primary_key=True)
    at: Mapped[datetime] = mapped_column(primary_key=True)
    air_temp_c: Mapped[float]
    rh: Mapped[float]
    wind_kmh: Mapped[float]
    wind_height_m: Mapped[float] = mapped_column(default=10.0)
    cloud: Mapped[float | None]
    solar_w_m2: Mapped[float | None]
    rain_mm: Mapped[float | None]
    source: Mapped[str] = mapped_column(String(20))
    label: Mapped[str] = mapped_column(String(120))
    loaded_at: Mapped[datetime | None]


class ForecastCache(Base):
    """How a forecast source stands for a place of a company: what it said last, when it may be asked again.

    The hours it gave are `WeatherHour`s of the same place. `used`: they are this source's.
    """

    __tablename__ = "forecast_cache"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    place: Mapped[str] = mapped_column(String(24), primary_key=True)
    source: Mapped[str] = mapped_column(String(12), primary_key=True)
    grid: Mapped[str | None] = mapped_column(String(40))
    etag: Mapped[str | None] = mapped_column(String(200))
    last_modified: Mapped[str | None] = mapped_column(String(60))
    label: Mapped[str] = mapped_column(String(200), default="")
    issued_at: Mapped[datetime | None]
    next_at: Mapped[datetime | None]
    failures: Mapped[int] = mapped_column(default=0)
    why: Mapped[str | None] = mapped_column(String(200))
    used: Mapped[bool] = mapped_column(default=False)
    digest: Mapped[str | None] = mapped_column(String(32))


class ForecastTurn(Base):
    """Which server process asks for a place's forecast, and until when nobody else does."""

    __tablename__ = "forecast_turn"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    place: Mapped[str] = mapped_column(String(24), primary_key=True)
    holder: Mapped[str] = mapped_column(String(36))
    until: Mapped[datetime]


class JobForecast(Base):
    """Which forecast a job was last computed with: the place its hours are kept under, what they hold
    (`mark`), and what people are told about them."""

    __tablename__ = "job_forecast"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    job: Mapped[str] = mapped_column(String(36), primary_key=True)
    place: Mapped[str] = mapped_column(String(24))
    mark: Mapped[str] = mapped_column(String(32))
    label: Mapped[str] = mapped_column(String(300))
    as_of: Mapped[datetime | None]


class CalendarFeed(Base):
    """A person's private calendar address. Only its secret's hash is kept; making a new one ends the old.

    `reads` counts since `counted_from`, for the limit on reading.
    """

    __tablename__ = "calendar_feed"
    __table_args__ = (
        ForeignKeyConstraint(
            ["company_id", "person_id"], ["person.company_id", "person.id"], ondelete="CASCADE"
        ),
        UniqueConstraint("company_id", "secret_sha256"),
    )
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    person_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    secret_sha256: Mapped[str] = mapped_column(String(64))
    created_at: Mapped[datetime]
    revoked_at: Mapped[datetime | None]
    counted_from: Mapped[datetime | None]
    reads: Mapped[int] = mapped_column(default=0)


class Photo(Base):
    """A photo by the SHA-256 of what the phone sent; `path`, below the photo folder, holds ours."""

    __tablename__ = "photo"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    sha256: Mapped[str] = mapped_column(String(64), primary_key=True)
    path: Mapped[str] = mapped_column(String(200))
    size: Mapped[int]
    mime: Mapped[str] = mapped_column(String(20))
    width: Mapped[int]
    height: Mapped[int]
    by: Mapped[str] = mapped_column(String(36))
    at: Mapped[datetime]
