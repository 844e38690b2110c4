"""A record as the bytes of a PDF. The same source gives the same bytes."""

import logging
from collections.abc import Iterator
from typing import Any

from slabtide.log.view import view_json
from slabtide.office.record.contract import Asked, Source
from slabtide.office.record.for_file import write_for_file
from slabtide.office.record.for_owner import write_for_owner
from slabtide.office.record.letters import letters_for
from slabtide.office.record.measures import Measures
from slabtide.office.record.moments import Moments
from slabtide.office.record.pages import Writing
from slabtide.office.record.paper import SOFT, Paper
from slabtide.office.record.words import Words

logging.getLogger("fontTools.subset").setLevel(logging.WARNING)  # it tells of every table it keeps


def build_record(source: Source, asked: Asked) -> bytes:
    """The record of `source` for the reader asked for."""
    words = Words(asked.language)
    letters = letters_for(_texts(source))
    paper = Paper(asked.system, asked.language, letters, source.last_at)
    zone = source.view.opened.time_zone if source.view.opened else "UTC"
    page = Writing(paper, source, asked, words, Measures(asked.system), Moments(asked.language, zone))
    title = words(f"title.{asked.reader}", name=source.view.name or source.view.id)
    paper.set_title(title)
    paper.set_author(source.company)
    paper.set_creator("Slabtide")
    paper.foot_words = lambda number: (
        f"{words('page', page=number, pages='{nb}')}  ·  {title}  ·  {source.company}"
    )
    paper.new_page()
    if asked.reader == "owner":
        write_for_owner(page)
    else:
        write_for_file(page)
    _made_from(page, zone)
    return bytes(paper.output())


def _made_from(page: Writing, zone: str) -> None:
    last = f"{page.moments.plain_day(page.source.last_at)}, {page.moments.time(page.source.last_at)}"
    made = page.words("made.from", entries=page.source.entries, at=last, zone=zone)
    page.paper.y_mm += 2
    page.paper.paragraph(made, 8, SOFT)
    if page.paper.letters.lost:
        page.paper.paragraph(page.words("lost.letters"), 8, SOFT)


def _texts(source: Source) -> Iterator[str]:
    """Every text that people wrote and that may come to be printed."""
    yield source.company
    yield from source.people.values()
    yield from _leaves(view_json(source.view))


def _leaves(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for part in value.values():
            yield from _leaves(part)
    elif isinstance(value, list):
        for part in value:
            yield from _leaves(part)
