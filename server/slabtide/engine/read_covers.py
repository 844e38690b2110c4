"""Reading the covers of the `slabtide timeline` input: blankets, wet covers and sheets, with their hours."""

from datetime import datetime
from typing import get_args

from slabtide.engine.covers import DEFAULT_R_M2K_W
from slabtide.engine.fields import Fields, Problem
from slabtide.engine.pour import Cover, CoverKind

_KINDS: tuple[CoverKind, ...] = get_args(CoverKind)


def read_cover(data: object, path: str, problems: list[Problem], nowhen: datetime) -> Cover:
    """One cover. A time that can't be read stands as `nowhen`; what is wrong is added to `problems`."""
    f = Fields(data, path, problems, ("from", "to", "kind", "r_m2k_w", "load"))
    kind = f.choice("kind", _KINDS)
    cover = Cover(
        starts=f.time("from") or nowhen,
        ends=f.time("to") or nowhen,
        kind=kind,
        r_m2k_w=f.number("r_m2k_w", 0, 5, "m2·K/W", default=DEFAULT_R_M2K_W[kind]),
        load=f.text("load") if f.values.get("load") is not None else None,
    )
    if nowhen not in (cover.starts, cover.ends) and cover.ends <= cover.starts:
        f.fail("to", "not after from", "a time after from")
    return cover
