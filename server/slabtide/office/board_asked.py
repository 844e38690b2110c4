"""What of the board an address asks for."""

from collections.abc import Mapping

from marshmallow import Schema, fields
from marshmallow.validate import Length, OneOf, Range

from slabtide.json_body import load
from slabtide.office.board_pick import MOST_AT_ONCE, PHASES, SHOWS, SORTS, Choice
from slabtide.office.board_rows import plain_text


class _Asked(Schema):
    search = fields.String(load_default="", validate=Length(max=80))
    phase = fields.String(load_default="", validate=OneOf(("", *PHASES)))
    show = fields.String(load_default="all", validate=OneOf(SHOWS))
    sort = fields.String(load_default="urgent", validate=OneOf(SORTS))
    down = fields.Boolean(load_default=False)
    skip = fields.Integer(load_default=0, validate=Range(0, 1_000_000))
    limit = fields.Integer(load_default=MOST_AT_ONCE, validate=Range(1, MOST_AT_ONCE))


def read_choice(asked: Mapping[str, str]) -> Choice:
    """The choice in a query string; all may be left out. Raises `AppError` naming what is wrong."""
    found = load(_Asked(), dict(asked))
    return Choice(**(found | {"search": plain_text(found["search"])}))
