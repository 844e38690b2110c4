"""How fast a crew textures: people, mats and the minutes each mat takes.

One person of three or more stays with release, edges and touch-up; two or one do that between mats. Each of
the others lays mats: set it, print it, lift the one behind, carry it forward. The minutes told are those to
lay and tamp; below `TAMPER_FROM_MPA` a mat prints under body weight alone, which is quicker. A mat is away
from the front while it is printed, while it guides the next one, and while it is carried.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from slabtide.engine.pour import Texturing

TAMPER_FROM_MPA = 0.35  # 50 psi: a third of what a boot sole bears on, above it treading prints shallow (EST)
BODY_WEIGHT_SHARE = 0.7  # of the minutes told, where treading does it (EST)
CARRY_MINUTES = 0.5  # lift, a few steps, set down in line (EST)
DETAIL_FROM = 3  # from this many people one is kept on release, edges and touch-up (common practice)
DETAIL_SHARE = 0.25  # fewer people give this share of their time to it (EST)
MOVE_MINUTES = 3.0  # carrying mats and tools over to the next load (EST)

Limit = Literal["people", "mats"]


@dataclass(frozen=True, slots=True)
class CrewRate:
    """People who lay mats; area printed per hour [m2/h] on soft concrete and with the tamper; which of people
    or mats holds it there."""

    hands: int
    soft_m2_h: float
    tamper_m2_h: float
    limited_by: Limit

    def finish_s(self, start_s: float, area_m2: float, tamper_s: float) -> float:
        """When an area is done [s], begun at `start_s`; it wants the tamper from `tamper_s`."""
        return self.finishes_s([start_s], area_m2, [tamper_s])[0]

    def finishes_s(
        self, starts_s: Sequence[float], area_m2: float, tampers_s: Sequence[float]
    ) -> list[float]:
        """`finish_s` for many starts."""
        soft, hard, whole_s = self.soft_m2_h, self.tamper_m2_h, 3600.0 * area_m2 / self.soft_m2_h
        found = []
        for start, tamper in zip(starts_s, tampers_s, strict=True):
            easy = soft * ((tamper - start) / 3600.0) if tamper > start else 0.0
            if easy >= area_m2:
                found.append(start + whole_s)
            else:
                found.append((tamper if tamper > start else start) + 3600.0 * (area_m2 - easy) / hard)
        return found

    def done_m2(self, start_s: float, until_s: float, tamper_s: float) -> float:
        """The area done [m2] from one time to another [s]; `finish_s` asked the other way."""
        soft_s = max(0.0, min(until_s, tamper_s) - start_s)
        hard_s = max(0.0, until_s - max(start_s, tamper_s))
        return (self.soft_m2_h * soft_s + self.tamper_m2_h * hard_s) / 3600.0

    def times(self, share: float) -> "CrewRate":
        """The same crew at a share of its pace (1 = as told)."""
        return CrewRate(self.hands, self.soft_m2_h * share, self.tamper_m2_h * share, self.limited_by)

    def start_s(self, finish_s: float, area_m2: float, tamper_s: float) -> float:
        """When an area has to be begun [s] to be done at `finish_s`; `finish_s` read backwards."""
        hard = self.tamper_m2_h * max(0.0, finish_s - tamper_s) / 3600.0
        if hard >= area_m2:
            return finish_s - 3600.0 * area_m2 / self.tamper_m2_h
        return min(finish_s, tamper_s) - 3600.0 * (area_m2 - hard) / self.soft_m2_h


def crew_rate(texturing: Texturing) -> CrewRate:
    """The pace of a crew.

    Source: cycle times as told (EST); a crew of four to six prints 250 to 500 ft2/h (EST).

    >>> rate = crew_rate(Texturing(3, 8, 0.6, 2.0))
    >>> rate.hands, round(rate.soft_m2_h, 1), round(rate.tamper_m2_h, 1), rate.limited_by
    (2, 37.9, 28.8, 'people')
    """
    with_detail = texturing.people >= DETAIL_FROM
    hands = texturing.people - 1 if with_detail else texturing.people
    at_work = float(hands) if with_detail else hands * (1.0 - DETAIL_SHARE)
    by_people, by_mats = _areas(texturing, at_work, texturing.lay_minutes)
    quick = _areas(texturing, at_work, texturing.lay_minutes * BODY_WEIGHT_SHARE)
    limit: Limit = "people" if by_people <= by_mats else "mats"
    return CrewRate(hands, min(quick), min(by_people, by_mats), limit)


def _areas(texturing: Texturing, at_work: float, lay_minutes: float) -> tuple[float, float]:
    """Area per hour [m2/h] that the hands could print, and that the mats could."""
    by_hand = at_work * 60.0 / (lay_minutes + CARRY_MINUTES)
    by_mat = texturing.mats * 60.0 / (2.0 * lay_minutes + CARRY_MINUTES)
    return by_hand * texturing.mat_area_m2, by_mat * texturing.mat_area_m2
