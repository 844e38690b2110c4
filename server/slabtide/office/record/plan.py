"""The plan, drawn to scale: outline, bays, abutting sides, cuts, pins, levels, dimensions, scale bar."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from slabtide.log.model import Bay, JobView, Slab, Spot
from slabtide.log.slope import Plane, away_from
from slabtide.office.record.measures import Measures
from slabtide.office.record.paper import (
    ACCENT,
    GROUND,
    INK,
    LINE,
    MARGIN_MM,
    SOFT,
    WARN,
    Colour,
    Paper,
)
from slabtide.office.record.scale import Extent, Scale, bar_lengths, best_ratio
from slabtide.office.record.words import Words

PAPER_WHITE: Colour = (255, 254, 250)
ROUND_MM = 12.0
"""Left free around the slab for dimensions."""
LEAST_MM, UNDER_MM = 88.0, 20.0
"""The least room on a page for a plan, and what bar and legend take of it."""
MOST_DIMENSIONS = 30
MOST_MARKS = 400


@dataclass(frozen=True, slots=True)
class PlanMarks:
    """What else is drawn. `pins`: numbers by the ids of those drawn; `plane`: for the arrow of the fall."""

    pins: Mapping[str, int]
    levels: bool
    plane: Plane | None


def draw_plan(
    paper: Paper,
    view: JobView,
    slab: Slab,
    measures: Measures,
    words: Words,
    marks: PlanMarks,
    high_mm: float,
) -> None:
    """The plan with its scale bar and legend, `high_mm` tall at most and no taller than the page has room."""
    extent = Extent.of(slab.corners)
    paper.need(LEAST_MM)
    high_mm = min(high_mm, paper.left_mm - UNDER_MM)
    ratio, name = best_ratio(extent, paper.wide_mm - 2 * ROUND_MM, high_mm - 2 * ROUND_MM, measures.system)
    wide, high = extent.wide_m * 1000 / ratio, extent.high_m * 1000 / ratio
    top = paper.y_mm + ROUND_MM
    scale = Scale(ratio, name, MARGIN_MM + (paper.wide_mm - wide) / 2, top + high, extent.x0, extent.y0)
    with (
        paper.held(),
        paper.rect_clip(x=MARGIN_MM, y=paper.y_mm, w=paper.wide_mm, h=high + 2 * ROUND_MM),
    ):  # what lies far off the slab stays off the words
        _slab(paper, slab, scale)
        for bay in view.bays[:MOST_MARKS]:
            _bay(paper, bay, scale, measures, words, len(view.bays))
        _outline(paper, slab, scale)
        _abutting(paper, slab, scale)
        _cuts(paper, view, scale)
        _dimensions(paper, slab, scale, measures)
        if marks.plane is not None:
            _fall(paper, slab, scale, marks.plane, words)
        if marks.levels:
            _levels(paper, view, scale, measures)
        _pins(paper, view, scale, marks.pins)
    paper.y_mm = top + high + ROUND_MM
    _bar(paper, scale, measures, words)
    _legend(paper, view, slab, words, marks)


def _corners(corners: Sequence[Spot], scale: Scale) -> list[tuple[float, float]]:
    return [scale.at(corner) for corner in corners]


def _slab(paper: Paper, slab: Slab, scale: Scale) -> None:
    paper.set_fill_color(*GROUND)
    paper.polygon(_corners(slab.corners, scale), style="F")


def _outline(paper: Paper, slab: Slab, scale: Scale) -> None:
    paper.set_draw_color(*INK)
    paper.set_line_width(0.6)
    paper.polygon(_corners(slab.corners, scale), style="D")


def _bay(paper: Paper, bay: Bay, scale: Scale, measures: Measures, words: Words, count: int) -> None:
    paper.set_draw_color(*LINE)
    paper.set_line_width(0.2)
    paper.set_fill_color(*(PAPER_WHITE if bay.order % 2 else GROUND))
    paper.polygon(_corners(bay.corners, scale), style="DF")
    x, y = scale.at(_middle(bay.corners))
    paper.write_with(9 if count <= 40 else 5, "B", INK)
    _centred(paper, x, y, bay.label)
    if count <= 40:
        paper.write_with(7, colour=SOFT)
        _centred(paper, x, y + 3.4, measures.say(bay.area_m2, "area"))


def _middle(corners: Sequence[Spot]) -> Spot:
    """The centre of gravity of a polygon."""
    twice, x, y = 0.0, 0.0, 0.0
    for here, there in zip(corners, [*corners[1:], corners[0]], strict=True):
        cross = here[0] * there[1] - there[0] * here[1]
        twice, x, y = twice + cross, x + (here[0] + there[0]) * cross, y + (here[1] + there[1]) * cross
    if abs(twice) < 1e-9:
        return corners[0]
    return x / (3 * twice), y / (3 * twice)


def _centred(paper: Paper, x: float, y: float, text: str) -> None:
    printable = paper.letters.printable(text)
    paper.text(x - paper.measured(printable) / 2, y, printable)


def _abutting(paper: Paper, slab: Slab, scale: Scale) -> None:
    """A thick line just outside the side, hatched as a wall is, with what stands there."""
    for row in slab.abutting:
        out_x, out_y = _outward(slab, row.edge)
        here = scale.at(slab.corners[row.edge])
        there = scale.at(slab.corners[(row.edge + 1) % len(slab.corners)])
        wide = 2.2
        paper.line_at(
            here[0] + out_x * 0.8, here[1] + out_y * 0.8, there[0] + out_x * 0.8, there[1] + out_y * 0.8,
            ACCENT, 0.9,
        )  # fmt: skip
        length = math.dist(here, there)
        along = ((there[0] - here[0]) / length, (there[1] - here[1]) / length)
        for count in range(min(int(length / 2.0), 400)):
            x, y = here[0] + along[0] * count * 2.0, here[1] + along[1] * count * 2.0
            x, y = x + out_x * 1.2, y + out_y * 1.2
            paper.line_at(
                x, y, x + along[0] * 1.4 + out_x * wide, y + along[1] * 1.4 + out_y * wide, LINE, 0.15
            )


def _outward(slab: Slab, edge: int) -> tuple[float, float]:
    """Unit vector out of the slab on paper, square to a side."""
    x, y = away_from(slab.corners, edge)
    return -x, y


def _cuts(paper: Paper, view: JobView, scale: Scale) -> None:
    paper.set_dash_pattern(dash=1.6, gap=1.0)
    for cut in view.cuts[:MOST_MARKS]:
        if cut.from_ and cut.to:
            paper.line_at(*scale.at(cut.from_), *scale.at(cut.to), ACCENT, 0.5)
    paper.set_dash_pattern()


def _dimensions(paper: Paper, slab: Slab, scale: Scale, measures: Measures) -> None:
    """The length of each side; of a slab with very many, as a round one has, its extent both ways."""
    paper.write_with(7.5, colour=INK)
    if len(slab.corners) > MOST_DIMENSIONS:
        _over_all(paper, slab, scale, measures)
        return
    walls = {row.edge for row in slab.abutting}
    taken: list[_Box] = []
    for edge, corner in enumerate(slab.corners):
        after = slab.corners[(edge + 1) % len(slab.corners)]
        words = paper.letters.printable(measures.length(math.dist(corner, after)))
        wide = paper.measured(words)
        for x, y, angle in _places(slab, edge, scale, wide, edge in walls):
            box = _Box.around(x, y, wide, angle)
            if not any(box.meets(other) for other in taken):
                taken.append(box)
                _turned(paper, x, y, angle, words)
                break


def _places(
    slab: Slab, edge: int, scale: Scale, wide: float, wall: bool
) -> Iterator[tuple[float, float, float]]:
    """Where a side's words may stand, best first: along it outside, along it inside, upright beyond it."""
    here, there = scale.at(slab.corners[edge]), scale.at(slab.corners[(edge + 1) % len(slab.corners)])
    x, y = (here[0] + there[0]) / 2, (here[1] + there[1]) / 2
    out_x, out_y = _outward(slab, edge)
    angle = math.degrees(math.atan2(-(there[1] - here[1]), there[0] - here[0]))
    angle = (angle + 90) % 180 - 90  # never upside down
    outside = 7.2 if wall else 4.2
    if math.dist(here, there) >= wide + 1:
        yield x + out_x * outside, y + out_y * outside, angle
        yield x - out_x * 3.2, y - out_y * 3.2, angle
    beyond = outside - 2 + abs(out_x) * wide / 2 + abs(out_y) * 1.5
    yield x + out_x * beyond, y + out_y * beyond, 0.0


def _over_all(paper: Paper, slab: Slab, scale: Scale, measures: Measures) -> None:
    extent = Extent.of(slab.corners)
    left, low = scale.at((extent.x0, extent.y0))
    right, high = scale.at((extent.x1, extent.y1))
    for x1, y1, x2, y2 in ((left, low + 4, right, low + 4), (left - 4, low, left - 4, high)):
        paper.line_at(x1, y1, x2, y2, LINE, 0.15)
        for x, y in ((x1, y1), (x2, y2)):
            flat = y1 == y2
            paper.line_at(x, y - 1.2 * flat, x, y + 1.2 * flat, LINE, 0.15)
            paper.line_at(x - 1.2 * (not flat), y, x + 1.2 * (not flat), y, LINE, 0.15)
    paper.write_with(7.5, colour=INK)
    _turned(paper, (left + right) / 2, low + 7.2, 0.0, measures.length(extent.wide_m))
    _turned(paper, left - 7.2, (low + high) / 2, 90.0, measures.length(extent.high_m))


def _turned(paper: Paper, x: float, y: float, angle: float, words: str) -> None:
    with paper.rotation(angle, x, y):
        _centred(paper, x, y + 1.0, words)


@dataclass(frozen=True, slots=True)
class _Box:
    """Where words stand on the page: middle and half sizes, mm."""

    x: float
    y: float
    half_wide: float
    half_high: float

    @classmethod
    def around(cls, x: float, y: float, wide: float, angle_deg: float) -> "_Box":
        """Words of this width and usual height, turned."""
        across, along = abs(math.cos(math.radians(angle_deg))), abs(math.sin(math.radians(angle_deg)))
        return cls(x, y, (wide * across + 3 * along) / 2, (wide * along + 3 * across) / 2)

    def meets(self, other: "_Box") -> bool:
        """Whether the two overlap."""
        return (
            abs(self.x - other.x) < self.half_wide + other.half_wide
            and abs(self.y - other.y) < self.half_high + other.half_high
        )


def _fall(paper: Paper, slab: Slab, scale: Scale, plane: Plane, words: Words) -> None:
    if plane.direction_deg is None:
        return
    turned = math.radians(plane.direction_deg)
    x, y = scale.at(_middle(slab.corners))
    x, y = x + 9, y - 9
    tip_x, tip_y = x + 12 * math.cos(turned), y - 12 * math.sin(turned)
    paper.line_at(x, y, tip_x, tip_y, ACCENT, 0.4)
    for side in (-0.45, 0.45):
        back = turned + math.pi + side
        paper.line_at(tip_x, tip_y, tip_x + 2.6 * math.cos(back), tip_y - 2.6 * math.sin(back), ACCENT, 0.4)
    paper.write_with(7, colour=ACCENT)
    paper.text(min(x, tip_x) - 2, min(y, tip_y) - 1.5, f"{plane.fall_percent:.1f}\u00a0%")


def _levels(paper: Paper, view: JobView, scale: Scale, measures: Measures) -> None:
    """A cross at each shot, and how far it lies below the highest."""
    highest = min((level.reading_m for level in view.levels), default=0.0)
    paper.write_with(6.5, colour=SOFT)
    for level in view.levels[:MOST_MARKS]:
        x, y = scale.at(level.spot)
        paper.line_at(x - 1.2, y, x + 1.2, y, SOFT)
        paper.line_at(x, y - 1.2, x, y + 1.2, SOFT)
        paper.text(x + 1.2, y - 0.8, paper.letters.printable(measures.short(level.reading_m - highest)))


def _pins(paper: Paper, view: JobView, scale: Scale, numbers: Mapping[str, int]) -> None:
    for pin in [pin for pin in view.pins if pin.id in numbers][:MOST_MARKS]:
        x, y = scale.at(pin.spot)
        _pin(paper, x, y, numbers[pin.id], pin.open)


def _pin(paper: Paper, x: float, y: float, number: int, is_open: bool) -> None:
    paper.set_draw_color(*WARN)
    paper.set_line_width(0.4)
    paper.set_fill_color(*(WARN if is_open else PAPER_WHITE))
    paper.circle(x, y, 2.1, style="DF")
    paper.write_with(6.5, "B", PAPER_WHITE if is_open else WARN)
    _centred(paper, x, y + 0.85, str(number))


def _bar(paper: Paper, scale: Scale, measures: Measures, words: Words) -> None:
    marks = bar_lengths(scale.ratio, measures.system)
    x0, y = MARGIN_MM, paper.y_mm + 4
    with paper.held():
        for index, ((begin_m, _), (end_m, _)) in enumerate(pairwise(marks)):
            paper.set_fill_color(*(INK if index % 2 == 0 else PAPER_WHITE))
            paper.set_draw_color(*INK)
            paper.set_line_width(0.2)
            paper.rect(x0 + scale.mm(begin_m), y, scale.mm(end_m - begin_m), 1.3, style="DF")
        paper.write_with(7, colour=INK)
        for length_m, text in marks:
            _centred(paper, x0 + scale.mm(length_m), y - 0.8, text)
    paper.write_with(8, colour=SOFT)
    x = x0 + scale.mm(marks[-1][0]) + 10
    lines = paper.wrapped(words("plan.scale", scale=scale.name), paper.wide_mm - (x - MARGIN_MM))
    for index, line in enumerate(lines):
        paper.text(x, y + 1.3 + index * 3.6, line)
    paper.y_mm = y + 3.2 + 3.6 * (len(lines) - 1)


def _legend(paper: Paper, view: JobView, slab: Slab, words: Words, marks: PlanMarks) -> None:
    """Names of the signs that are on this plan, in one or two lines."""
    entries: list[tuple[str, str]] = []
    if slab.abutting:
        against = ", ".join(dict.fromkeys(row.against for row in slab.abutting))
        entries.append(("wall", words("plan.abutting", against=against)))
    if any(cut.from_ and cut.to for cut in view.cuts):
        entries.append(("cut", words("plan.cut")))
    pins = [pin for pin in view.pins if pin.id in marks.pins]
    if any(not pin.open for pin in pins):
        entries.append(("closed", words("plan.pin.closed")))
    if any(pin.open for pin in pins):
        entries.append(("open", words("plan.pin.open")))
    if marks.levels and view.levels:
        entries.append(("level", words("plan.level")))
    if marks.plane is not None and marks.plane.direction_deg is not None:
        entries.append(("fall", words("plan.fall")))
    x, paper.y_mm = MARGIN_MM, paper.y_mm + 4.5
    with paper.held():
        for sign, text in entries:
            paper.write_with(8, colour=SOFT)
            printable = paper.letters.printable(text)
            wide = paper.measured(printable) + 14
            if x > MARGIN_MM and x + wide > MARGIN_MM + paper.wide_mm:
                x, paper.y_mm = MARGIN_MM, paper.y_mm + 4.6
            _sign(paper, sign, x, paper.y_mm - 1.1)
            paper.write_with(8, colour=SOFT)
            paper.text(x + 8, paper.y_mm, printable)
            x += wide
    paper.y_mm += 2


def _sign(paper: Paper, sign: str, x: float, y: float) -> None:
    if sign == "wall":
        paper.line_at(x, y + 0.6, x + 6, y + 0.6, ACCENT, 0.9)
        for count in range(3):
            paper.line_at(x + 2 * count, y + 0.2, x + 2 * count + 1.4, y - 1.6, LINE, 0.15)
    elif sign == "cut":
        paper.set_dash_pattern(dash=1.6, gap=1.0)
        paper.line_at(x, y, x + 6, y, ACCENT, 0.5)
        paper.set_dash_pattern()
    elif sign == "level":
        paper.line_at(x + 2, y, x + 4.4, y, SOFT)
        paper.line_at(x + 3.2, y - 1.2, x + 3.2, y + 1.2, SOFT)
    elif sign == "fall":
        paper.line_at(x, y, x + 6, y, ACCENT, 0.4)
        paper.line_at(x + 6, y, x + 4, y - 1.1, ACCENT, 0.4)
        paper.line_at(x + 6, y, x + 4, y + 1.1, ACCENT, 0.4)
    else:
        paper.set_draw_color(*WARN)
        paper.set_line_width(0.4)
        paper.set_fill_color(*(WARN if sign == "open" else PAPER_WHITE))
        paper.circle(x + 3.2, y, 1.6, style="DF")
