"""What a kind is: its body, who may write it, and how it folds."""

from dataclasses import dataclass
from typing import Literal

from slabtide.log.kinds.fields import Body

Role = Literal["crew", "foreman", "office"]
CREW, FOREMAN, OFFICE = ROLES = ("crew", "foreman", "office")


@dataclass(frozen=True, slots=True)
class SetKey:
    """The last writer by (clock, id) wins on one key; `{name}` stands for a field of the body."""

    key: str


@dataclass(frozen=True, slots=True)
class AddTo:
    """Joins a collection, by event id."""

    collection: str


@dataclass(frozen=True, slots=True)
class Retract:
    """Hides the event that the body names; retracting a retract brings it back."""


Rule = SetKey | AddTo | Retract


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of event."""

    name: str
    schema: type[Body]
    roles: tuple[str, ...]
    rule: Rule

    @property
    def body_name(self) -> str:
        """The TypeScript name of the body, e.g. `JobOpened`."""
        return "".join(word.capitalize() for part in self.name.split(".") for word in part.split("_"))
