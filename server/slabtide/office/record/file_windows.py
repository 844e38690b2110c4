"""Windows in the file: predicted at placing, as last told, and kept."""

from collections.abc import Iterator

from slabtide.office.record.kept import WORK, Done, Kept, Three, told_in, windows_kept
from slabtide.office.record.measures import duration
from slabtide.office.record.pages import Writing
from slabtide.office.record.paper import SOFT
from slabtide.office.record.table import table

_NAMES = ("load.short", "windows.work", "windows.told", "windows.opens", "windows.closes", "windows.done")


def write_windows(page: Writing) -> None:
    """Each window of each load as it was told at placing, before any check, and as it was told last."""
    words, source = page.words, page.source
    then = [] if source.planned else windows_kept(page.view, source.at_placing)
    last = [] if source.planned else windows_kept(page.view, told_in(source.timeline))
    page.paper.heading(words("windows.title"))
    if not then and not last:
        page.paper.paragraph(words("windows.none"), colour=SOFT)
        return
    page.paper.paragraph(words("windows.how"), 8.5, SOFT)
    if any(load in source.afterwards for load in source.at_placing):
        page.paper.paragraph(words("windows.afterwards"), 8.5, SOFT)
    told = [(one, "windows.at_placing") for one in then] + [(one, "windows.last") for one in last]
    told.sort(key=lambda pair: (pair[0].load.number, WORK.index(pair[0].work)))
    rows = [_window_row(page, one, words(key)) for one, key in told]
    names = (*_NAMES, "windows.kept")
    table(page.paper, [words(name) for name in names], rows, more=words("more.rows"), bold_first=True)
    if last:
        for line in _first_nights(page):
            page.paper.paragraph(line, 8.5)


def _first_nights(page: Writing) -> Iterator[str]:
    """What was told of each load's first night, where its surface falls far enough to crack."""
    numbers = {load.id: load.number for load in page.view.loads}
    for notice in (page.source.timeline or {}).get("warnings", ()):
        if notice["code"] == "first_night_drop" and notice["load"] in numbers:
            params = notice["params"]
            yield page.words(
                "windows.night",
                load=numbers[notice["load"]],
                peak=page.measures.say(params["peak_c"], "temp"),
                coldest=page.measures.say(params["coldest_c"], "temp"),
                at=page.moments.stamp(notice["from"]),
                drop=page.measures.say(params["drop_k"], "kelvin"),
            )


def _window_row(page: Writing, one: Kept, told: str) -> tuple[str, ...]:
    words = page.words
    return (
        str(one.load.number),
        words(f"work.{one.work}"),
        told,
        _three(page, one.opens, words("windows.never")),
        _three(page, one.closes, words("windows.endless") if one.opens else ""),
        _done(page, one.done),
        _verdict(page, one),
    )


def _three(page: Writing, times: Three | None, otherwise: str) -> str:
    if times is None:
        return otherwise
    early, late = page.moments.time(times["early"]), page.moments.time(times["late"])
    return f"{page.moments.stamp(times['likely'])}\n({early}\u00a0–\u00a0{late})"


def _done(page: Writing, done: Done | None) -> str:
    if done is None:
        return ""
    begins = page.moments.stamp(done.begins)
    if done.ends in (None, done.begins):
        return begins
    same = page.moments.local(done.begins).date() == page.moments.local(done.ends).date()
    ends = page.moments.time(done.ends) if same else page.moments.stamp(done.ends)
    return f"{begins} {page.words('to')} {ends}"


def _verdict(page: Writing, one: Kept) -> str:
    """In the window or how far out of it, against its likely times; said to the minute."""
    words, early, late = page.words, round(one.early_min), round(one.late_min)
    if one.done is None:
        return words("windows.open")
    if early and late:
        return words("windows.both", early=duration(early), late=duration(late))
    if early:
        return words("windows.before", by=duration(early))
    if late:
        return words("windows.after", by=duration(late))
    return words("windows.running") if one.done.ends is None else words("windows.inside")
