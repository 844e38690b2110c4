"""The owner's form: what was placed, when, in what weather, how it is finished, and how to look after it."""

from collections.abc import Iterable
from datetime import datetime

from slabtide.log.checklists import slope_plane
from slabtide.log.model import Coat, Cut, Slab
from slabtide.log.slope import fall_away_percent
from slabtide.office.record.care_card import care_card
from slabtide.office.record.facts import (
    Span,
    hours_in,
    placed_loads,
    placed_volume_m3,
    placing,
    rain_mm,
    texturing,
)
from slabtide.office.record.measures import Quantity
from slabtide.office.record.pages import Writing, some
from slabtide.office.record.paper import SOFT
from slabtide.office.record.photo_pages import photo_pages
from slabtide.office.record.plan import LEAST_MM, PlanMarks, draw_plan

MOST_PHOTOS = 24


def write_for_owner(page: Writing) -> None:
    """All of the owner's pages."""
    view, words = page.view, page.words
    page.paper.headline(words("title.owner", name=view.name or view.id), page.source.company)
    _placed(page)
    _when(page)
    _plan(page)
    _joints(page)
    _finish(page)
    photo_pages(page, MOST_PHOTOS, abreast=2, high_mm=62)
    care_card(page)


def _placed(page: Writing) -> None:
    view, words, slab = page.view, page.words, page.view.slab
    page.paper.heading(words("placed.title"))
    if not placed_loads(view):
        page.paper.paragraph(words("placed.none"), colour=SOFT)
    volume = page.amount(placed_volume_m3(view), "volume")
    mix = view.mix
    colour = (mix.colour if mix else None) or (view.order.colour if view.order else None)
    strength = page.amount(mix.design_strength_mpa, "strength") if mix else ""
    water = [load.water_added_l for load in view.loads if load.water_added_l]
    page.paper.facts(
        [
            (words("customer"), view.opened.customer if view.opened else None),
            (words("place"), view.opened.place if view.opened else None),
            (words("use"), words(f"use.{view.opened.use}") if view.opened else None),
            (words("area"), page.amount(slab.area_m2, "area") if slab else None),
            (words("thickness"), page.amount(slab.thickness_m, "thickness") if slab else None),
            (
                words("concrete"),
                words("concrete.of", volume=volume, loads=placed_loads(view)) if placed_loads(view) else None,
            ),
            (words("supplier"), view.order.supplier if view.order else None),
            (words("mix"), words("mix.strength", name=mix.name, strength=strength) if mix else None),
            (words("colour"), colour),
            (words("temperatures"), _range(page, (load.concrete_temp_c for load in view.loads), "temp")),
            (words("slumps"), _range(page, (load.slump_mm for load in view.loads), "slump")),
            (words("water.added"), page.amount(sum(water), "water") if water else None),
        ]
    )


def _range(page: Writing, values: Iterable[float | None], quantity: Quantity) -> str | None:
    known = [value for value in values if value is not None]
    if not known:
        return None
    return page.measures.between(min(known), max(known), quantity, page.words("to"))


def _when(page: Writing) -> None:
    span, words = placing(page.view), page.words
    if span is None:
        return
    page.paper.heading(words("when.title"))
    textured = texturing(page.view)
    page.paper.facts(
        [
            (words("when.day"), _day_and_times(page, span)),
            (words("textured"), _day_and_times(page, textured) if textured else None),
            *_weather(page, span, textured),
        ]
    )
    if not page.source.hours:
        page.paper.paragraph(words("weather.none"), colour=SOFT)
    else:
        key = "weather.source" if page.view.weather_notes else "weather.source.plain"
        page.paper.paragraph(words(key, label=page.source.weather_label), 8, SOFT)


def _day_and_times(page: Writing, span: Span) -> str:
    moments = page.moments
    same = moments.local(span.begins).date() == moments.local(span.ends).date()
    ends = moments.time(span.ends) if same else moments.stamp(span.ends)
    return page.words("when.of", day=moments.day(span.begins), from_=moments.time(span.begins), to=ends)


def _weather(page: Writing, span: Span, textured: Span | None) -> list[tuple[str, str | None]]:
    words, to = page.words, page.words("to")
    hours = hours_in(page.source.hours, Span(span.begins, textured.ends if textured else span.ends))
    if not hours:
        return []
    say = page.measures.between
    temps, wet, wind = ([getattr(hour, name) for hour in hours] for name in ("air_temp_c", "rh", "wind_kmh"))
    key = "weather.air.of" if textured else "weather.air.pour"
    rain = rain_mm(page.source.hours, span.begins)
    return [
        (words("weather.air"), words(key, range=say(min(temps), max(temps), "temp", to))),
        (words("weather.rh"), say(min(wet), max(wet), "share", to)),
        (words("weather.wind"), say(min(wind), max(wind), "speed", to)),
        (
            words("weather.rain"),
            None if rain is None else page.amount(rain, "rain") if rain else words("none"),
        ),
    ]


def _plan(page: Writing) -> None:
    page.paper.heading(page.words("plan.title"), keep_mm=LEAST_MM if page.view.slab else 10)
    if page.view.slab is None:
        page.paper.paragraph(page.words("plan.none"), colour=SOFT)
        return
    marks = PlanMarks({}, levels=False, plane=None)
    draw_plan(page.paper, page.view, page.view.slab, page.measures, page.words, marks, high_mm=120)


def _joints(page: Writing) -> None:
    view, words = page.view, page.words
    page.paper.heading(words("joints.title"))
    rows: list[tuple[str, str | None]] = []
    if view.slab:
        rows += [
            (words("joints.isolation"), isolation_words(page, view.slab, row.edge))
            for row in view.slab.abutting
        ]
    page.paper.facts(
        [*rows, (words("joints.cut"), _cut_words(page, view.cuts)), (words("fall"), _fall_words(page))]
    )
    page.paper.paragraph(words("joints.why"), 8.5, SOFT)


def isolation_words(page: Writing, slab: Slab, edge: int) -> str:
    """How the strip along a side was found."""
    words = page.words
    joint = next((one for one in page.view.joints if one.edge == edge), None)
    if joint is None:
        state = words("joints.unchecked")
    elif joint.full_depth and joint.continuous:
        state = words("joints.good")
    else:
        wrong = some(
            "" if joint.full_depth else words("joints.not.depth"),
            "" if joint.continuous else words("joints.not.gaps"),
        )
        state = words("joints.not", what=wrong)
    return f"{words('joints.against', against=page.side(edge))}: {state}"


def _cut_words(page: Writing, cuts: tuple[Cut, ...]) -> str:
    words = page.words
    if not cuts:
        return words("joints.cut.none")
    ordered = sorted(cuts, key=lambda cut: cut.at)
    length = page.measures.length(page.view.cut_length_m)
    depths = [cut.depth_m for cut in cuts if cut.depth_m]
    depth = words("joints.cut.depth", depth=page.short(min(depths))) if depths else ""
    key = "joints.cut.of" if page.view.cuts_done else "joints.cut.open"
    return some(words(key, length=length, from_=page.moments.stamp(ordered[-1].at)), depth)


def _finish(page: Writing) -> None:
    view, words = page.view, page.words
    page.paper.heading(words("finish.title"))
    colour = view.mix.colour if view.mix else None
    releases = [bay.release for bay in view.bays if bay.release]
    products = list(dict.fromkeys(one.product for one in releases if one.product))
    mass = sum(one.mass_kg or 0.0 for one in releases)
    rows: list[tuple[str, str | None]] = [
        (words("finish.integral"), colour),
        (words("finish.release"), some(*products, page.amount(mass, "mass") if mass else None) or None),
    ]
    rows += [(words("finish.washed"), _dated(page, wash.at, wash.method)) for wash in view.washes]
    rows += [
        (words("finish.second"), _dated(page, one.at, some(one.product, page.amount(one.area_m2, "area"))))
        for one in view.colours
    ]
    rows += [
        (
            words("finish.coat", coat=coat.coat),
            _dated(page, coat.at, some(coat.product, spread_words(page, coat))),
        )
        for coat in view.coats
    ]
    page.paper.facts(rows)
    if not view.colours and not view.coats:
        page.paper.paragraph(words("finish.none"), colour=SOFT)


def _dated(page: Writing, at: str | datetime, what: str | None) -> str:
    return " · ".join(part for part in (page.moments.plain_day(at), what) if part)


def spread_words(page: Writing, coat: Coat) -> str:
    """How much sealer over how much slab, and how far it went."""
    volume, area = page.amount(coat.volume_l, "sealer"), page.amount(coat.area_m2, "area")
    if not coat.volume_l or not coat.area_m2:
        return some(volume, area)
    spread = page.amount(coat.area_m2 / coat.volume_l, "spread")
    return page.words("finish.spread", volume=volume, area=area, spread=spread)


def _fall_words(page: Writing) -> str | None:
    """How the slab falls, overall and away from each wall; None without enough shots."""
    view, words = page.view, page.words
    plane = slope_plane(view)
    if plane is None or view.slab is None:
        return None
    percent = page.measures.say(plane.fall_percent, "percent")
    away = [
        words(
            "fall.of",
            percent=percent,
            against=row.against,
            away=page.measures.say(fall_away_percent(plane, view.slab.corners, row.edge), "percent"),
        )
        for row in view.slab.abutting
    ]
    return "; ".join(away) if away else words("fall.plain", percent=percent)
