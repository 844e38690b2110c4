"""The tables of what a company learns from pour to pour. All of it follows from the log."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sqlalchemy import Index, String, Text
from sqlalchemy.orm import Mapped, mapped_column

from slabtide.store.tables import Base


class ForecastMark(Base):
    """What a forecast said of one work on one load, kept so that it can be held against what was done.

    `stage`: first (when the load was first told of), at_placing, last. `basis` is what of the load it rests
    on; `afterwards`: worked out later, as of then. Both windows None: the forecast gave none.
    """

    __tablename__ = "forecast_mark"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    job: Mapped[str] = mapped_column(String(36), primary_key=True)
    load: Mapped[str] = mapped_column(String(36), primary_key=True)
    what: Mapped[str] = mapped_column(String(12), primary_key=True)
    stage: Mapped[str] = mapped_column(String(12), primary_key=True)
    made_at: Mapped[datetime]
    afterwards: Mapped[bool] = mapped_column(default=False)
    basis: Mapped[str] = mapped_column(String(100))
    opens: Mapped[dict[str, Any] | None]
    closes: Mapped[dict[str, Any] | None]


class JobPrior(Base):
    """What a job goes by for its mix before any check of its own, as its phones are told (`told`).

    `settled`: concrete is down, or the job is closed; no later pour changes it. `began_mean`, `began_sd`: the
    logarithm of the set factor its last times began from; None before any.
    """

    __tablename__ = "job_prior"
    __table_args__ = (Index(None, "company_id", "mix_key"),)
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    job: Mapped[str] = mapped_column(String(36), primary_key=True)
    mix_key: Mapped[str] = mapped_column(String(80))
    plant_key: Mapped[str] = mapped_column(String(80))
    settled: Mapped[bool] = mapped_column(default=False)
    told: Mapped[dict[str, Any] | None]
    began_mean: Mapped[float | None]
    began_sd: Mapped[float | None]


class JobResult(Base):
    """What a closed job came to; there is none while a job is open.

    `mean_log`, `sd_log`: its set factor as its last times told, with what they began from; None where no
    check told anything. `aside`: why it is not learned from. `shown` is what looking back counts with.
    """

    __tablename__ = "job_result"
    __table_args__ = (
        Index(None, "company_id", "mix_key", "plant_key", "closed_at"),
        Index(None, "company_id", "poured_at"),
    )
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    job: Mapped[str] = mapped_column(String(36), primary_key=True)
    name: Mapped[str] = mapped_column(String(80))
    closed_at: Mapped[datetime]
    poured_at: Mapped[datetime | None]
    month: Mapped[str] = mapped_column(String(7))
    mix_key: Mapped[str] = mapped_column(String(80))
    plant_key: Mapped[str] = mapped_column(String(80))
    mix: Mapped[str] = mapped_column(String(80))
    plant: Mapped[str] = mapped_column(String(80))
    mean_log: Mapped[float | None]
    sd_log: Mapped[float | None]
    began_mean: Mapped[float | None]
    began_sd: Mapped[float | None]
    aside: Mapped[str | None] = mapped_column(Text)
    shown: Mapped[dict[str, Any]]


class MixPrior(Base):
    """What the company knows of a mix from a plant for its next pour: the fold over `JobResult`, kept.

    An empty `plant_key` stands for the mix from any plant, both empty for all mixes together.
    """

    __tablename__ = "mix_prior"
    company_id: Mapped[str] = mapped_column(String(36), primary_key=True)
    mix_key: Mapped[str] = mapped_column(String(80), primary_key=True)
    plant_key: Mapped[str] = mapped_column(String(80), primary_key=True)
    mix: Mapped[str] = mapped_column(String(80))
    plant: Mapped[str] = mapped_column(String(80))
    pours: Mapped[int]
    mean_log: Mapped[float]
    sd_log: Mapped[float]
    last_at: Mapped[datetime]
