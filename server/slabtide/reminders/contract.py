"""The words of the reminders room: what is reminded of, its stages and states, and a time that is not sure.

States and their legal moves:
  planned       waits for its time            -> due, cancelled, acknowledged, missed
  due           its time has come, unsent     -> sent, failed, planned, cancelled, acknowledged, missed
  sent          a push service took it        -> acknowledged, planned or due (moved by more than 15 minutes)
  failed        no push service took it       -> sent (a device subscribes again), planned (moved), cancelled
  acknowledged  someone has it in hand        -> planned or due (moved by more than 15 minutes)
  cancelled     done, withdrawn or overtaken  -> planned, due (undone)
  missed        expired before it could go    -> planned, due (moved)
"""

import uuid
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Literal

What = Literal["check", "texture", "saw", "wash", "colour", "seal"]
Stage = Literal["heads_up", "open", "last_call", "missed"]
State = Literal["planned", "due", "sent", "acknowledged", "cancelled", "failed", "missed"]
Language = Literal["en", "es"]

WHATS: tuple[What, ...] = ("check", "texture", "saw", "wash", "colour", "seal")
STAGES: tuple[Stage, ...] = ("heads_up", "open", "last_call", "missed")
LANGUAGES: tuple[Language, ...] = ("en", "es")


@dataclass(frozen=True, slots=True)
class Kept:
    """The time somebody kept for a piece of work, UTC; the engine's code for what no longer lets it be (None
    = it holds); and whether the opening beside it is the next best time."""

    starts: datetime
    ends: datetime
    why: str | None = None
    next_best: bool = False

    def as_json(self) -> dict[str, Any]:
        """ISO 8601 UTC with milliseconds."""
        told = {"from": iso(self.starts), "to": iso(self.ends), "why": self.why}
        return told | {"next_best": self.next_best}

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> "Kept":
        """From the stored form; any UTC offset."""
        starts, ends = (datetime.fromisoformat(data[name]).astimezone(UTC) for name in ("from", "to"))
        return cls(starts, ends, data["why"], data["next_best"])


@dataclass(frozen=True, slots=True)
class NightDrop:
    """The surface's fall in its first night: when it stands `drop_k` [K] under its peak, UTC; its
    coldest in whole °C; and whether that is likely before the saw may start."""

    at: datetime
    coldest_c: int
    drop_k: float
    too_late: bool

    def as_json(self) -> dict[str, Any]:
        """As stored; `at` in ISO 8601 UTC with milliseconds."""
        told = {name: getattr(self, name) for name in ("coldest_c", "drop_k", "too_late")}
        return {"at": iso(self.at)} | told

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> "NightDrop":
        """From the stored form; any UTC offset."""
        at = datetime.fromisoformat(data["at"]).astimezone(UTC)
        return cls(at, data["coldest_c"], data["drop_k"], data["too_late"])


@dataclass(frozen=True, slots=True)
class When:
    """A time that is not sure: one chance in ten before `early`, one in ten after `late`. UTC. `kept`: it is,
    or was, a time that somebody kept. `drop`: the first night's cooling that the saw has to forestall."""

    early: datetime
    likely: datetime
    late: datetime
    kept: Kept | None = None
    drop: NightDrop | None = None

    def as_json(self) -> dict[str, Any]:
        """ISO 8601 UTC with milliseconds; `kept` and `drop` only where there is one."""
        told = {name: iso(getattr(self, name)) for name in ("early", "likely", "late")}
        kept = {"kept": self.kept.as_json()} if self.kept else {}
        return told | kept | ({"drop": self.drop.as_json()} if self.drop else {})

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> "When":
        """From the stored or the engine's form; any UTC offset."""
        early, likely, late = (
            datetime.fromisoformat(data[name]).astimezone(UTC) for name in ("early", "likely", "late")
        )
        kept = Kept.from_json(data["kept"]) if data.get("kept") else None
        return cls(early, likely, late, kept, NightDrop.from_json(data["drop"]) if data.get("drop") else None)


@dataclass(frozen=True, slots=True)
class WorkWindow:
    """When a piece of work may start and must be done, and what that rests on."""

    what: What
    subject: str
    opens: When
    closes: When | None


@dataclass(frozen=True, slots=True)
class Spec:
    """One reminder as it should stand. `due`: when to tell; `expires`: when it is no longer worth listing."""

    what: What
    subject: str
    stage: Stage
    due: datetime
    opens: When
    closes: When | None
    expires: datetime

    @property
    def audience(self) -> tuple[str, ...]:
        """Roles that are told."""
        if self.what in ("texture", "saw") and self.stage == "last_call":
            return ("foreman", "crew")
        if self.what == "saw" and self.stage == "missed":
            return ("foreman", "office")
        return ("foreman",)


def iso(moment: datetime) -> str:
    """A moment as the wire carries it: UTC, milliseconds, Z."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def reminder_id(company_id: str, job: str, what: str, subject: str, stage: str) -> str:
    """The same id wherever it is computed: UUID version 5 in the company's own name space.

    >>> reminder_id("7f0c1b9e-0000-4000-8000-000000000001", "j", "saw", "", "open")[14]
    '5'
    """
    return str(uuid.uuid5(uuid.UUID(company_id), f"{job}/{what}/{subject}/{stage}"))


def send_until(stage: str, opens: When, closes: When | None, expires: datetime) -> datetime:
    """The last moment at which a stage is still true: a push must not arrive after it."""
    if stage == "heads_up":
        return opens.likely
    if stage in ("open", "last_call") and closes is not None:
        return closes.late
    return expires
