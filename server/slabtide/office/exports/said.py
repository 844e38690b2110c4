"""What may be wrong with a list of jobs: each by a code and what its words hold, and in plain English.

The phone app says the same in its person's language, by the code: `page/words/*/bringIn.ts`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

Params = Mapping[str, str | int | float]

WORDS: Mapping[str, str] = {
    "row_unreadable": "This row is no CSV. Save the list as CSV again.",
    "row_too_wide": "This row has over {most} columns. Leave some out.",
    "row_too_long": "This row has more cells than the heading. Quote cells with commas.",
    "column_unknown": "There is no such column. Known: {known}.",
    "column_near": "There is no such column. Did you mean {near}?",
    "column_twice": "This column is there twice. Keep one.",
    "column_missing": "This column is missing.",
    "cell_unheaded": "This cell has no heading. Name the column or clear the cell.",
    "cell_empty": "Empty. Fill it in.",
    "said_twice": "{other} says the same in another unit. Clear one of them.",
    "no_number": "“{value}” is not a number. Write it like 12.5, without a unit.",
    "no_whole_number": "“{value}” is not a whole number.",
    "outside": "{value} is outside {low} to {high}. Check the number and its unit.",
    "too_long": "{count} characters; at most {most}. Shorten it.",
    "use_unknown": "“{value}” is no use known here. Write one of: {uses}.",
    "zone_unknown": "No time zone is called “{value}”. Use one like America/Chicago.",
    "no_volume": "There is a time to pour but no volume. Give one, or area and thickness.",
    "no_pour_time": "{given} is given but no time to pour. Give both.",
    "no_moment": "“{value}” is no date and time. Write it like 2026-07-14 07:00.",
    "clocks_forward": "The clocks go forward over this time on that day. Write another.",
    "no_such_moment": "This is no time that can be. Write another.",
    "job_twice": "Row {first} has the same name and place. Tell them apart by name.",
    "refused": "{why}",
}


@dataclass(frozen=True, slots=True)
class Said:
    """A code of `WORDS`, and what its words hold."""

    code: str
    params: Params = field(default_factory=lambda: MappingProxyType({}))

    @property
    def message(self) -> str:
        """In English."""
        return WORDS[self.code].format(**self.params)


def said(code: str, **params: str | int | float) -> Said:
    """A code with what its words hold; what came out of a cell is cut short."""
    return Said(
        code,
        {
            name: value[:24] if name == "value" and isinstance(value, str) else value
            for name, value in params.items()
        },
    )
