"""Reading who textures, and how far they have come."""

from datetime import datetime

from slabtide.engine.fields import Fields, Problem
from slabtide.engine.pour import Pour, Texturing, Worked


def read_texturing(data: object, problems: list[Problem], nowhen: datetime) -> Texturing:
    """The crew. A time that can't be read stands as `nowhen`; what is wrong is added to `problems`."""
    f = Fields(data, "texturing", problems, tuple(Texturing.__dataclass_fields__))
    return Texturing(
        people=f.whole("people", 1, 50),
        mats=f.whole("mats", 1, 200),
        mat_area_m2=f.number("mat_area_m2", 0.05, 3, "m2"),
        lay_minutes=f.number("lay_minutes", 0.1, 60, "min"),
        worked=f.items("worked", 0, 500, lambda item, path: _worked(item, path, problems, nowhen))
        if f.has("worked")
        else (),
    )


def _worked(data: object, path: str, problems: list[Problem], nowhen: datetime) -> Worked:
    f = Fields(data, path, problems, ("load", "area_m2", "from", "to"))
    ends = f.time("to") if f.values.get("to") is not None else None
    worked = Worked(f.text("load"), f.number("area_m2", 0.01, 1000, "m2"), f.time("from") or nowhen, ends)
    if ends is not None and worked.starts != nowhen and ends < worked.starts:
        f.fail("to", "before from", "from or after it")
    return worked


def worked_loads_known(pour: Pour, problems: list[Problem]) -> None:
    """Whether all that was textured lies in loads that are there."""
    known = [load.id for load in pour.loads]
    for index, worked in enumerate(pour.texturing.worked if pour.texturing else ()):
        if worked.load not in known:
            allowed = "one of " + ", ".join(sorted(known))
            message = f"{worked.load!r} is no load here; allowed: {allowed}"
            problems.append(Problem(f"texturing.worked[{index}].load", message, allowed))
