"""One slab through its first days: what it lives through, and what covers do to it."""

from dataclasses import replace
from datetime import timedelta

from matplotlib.figure import Figure
from scripts.plots.paper import ACCENT, COOL, INK, PALE, SOFT, sheet
from tests.engine.year import pour_on

from slabtide.engine import Pour, forecast
from slabtide.engine.pour import Cover
from slabtide.engine.timeline import LoadTimeline

HOUR = timedelta(hours=1)


def seen(pour: Pour) -> LoadTimeline:
    return forecast(pour, pour.loads[0].batched_at).loads[0]


def slab() -> Figure:
    """A clear October day: temperatures, loss of water, strength, stress, and the windows over them."""
    pour = pour_on(281)
    load, start = seen(pour), pour.loads[0].placed_from
    hours = [(point.at - start) / HOUR for point in load.curve]
    figure, (heat, water, cut) = sheet(3, height=6.4)
    heat.plot(hours, [point.surface_temp_c for point in load.curve], color=ACCENT, label="surface")
    heat.plot(hours, [point.mean_temp_c for point in load.curve], color=INK, label="mean of the depth")
    air = [((hour.at - start) / HOUR, hour.air_temp_c) for hour in pour.weather.hourly]
    heat.plot(*zip(*air, strict=True), color=COOL, lw=0.9, label="air")
    heat.set_ylabel("°C")
    water.plot(hours, [point.evaporation_kg_m2_h for point in load.curve], color=COOL)
    water.axhline(1.0, color=SOFT, lw=0.8, ls=":")
    water.text(47.5, 1.02, "ACI 305.1: protect", ha="right", fontsize=7, color=SOFT)
    water.set_ylabel("water lost, kg/m² h")
    water.set_ylim(0, 1.15)
    cut.plot(
        hours, [point.stress_ratio for point in load.curve], color=ACCENT, label="tension / tensile strength"
    )
    cut.plot(
        hours,
        [point.strength_mpa / 27.6 for point in load.curve],
        color=INK,
        label="strength / design strength",
    )
    cut.axhline(0.65, color=SOFT, lw=0.8, ls=":")
    cut.set_ylim(0, 1.5)
    for axes, name in ((heat, "texture"), (water, "texture"), (cut, "saw")):
        window = load.windows[name]
        if window is not None and window.closes is not None:
            axes.axvspan(
                (window.opens.likely - start) / HOUR, (window.closes.likely - start) / HOUR, color=PALE, lw=0
            )
            axes.text(
                (window.opens.likely - start) / HOUR, axes.get_ylim()[1], f" {name}", va="top", fontsize=8
            )
    practice = load.saw_practice
    cut.plot(
        [(practice.opens - start) / HOUR, (practice.closes - start) / HOUR],
        [1.15, 1.15],
        color=COOL,
        lw=3,
        label="practice saws",
    )
    for axes in (heat, water, cut):
        axes.set_xlim(0, 48)
    heat.legend(loc="upper right", ncols=3)
    cut.legend(loc="upper right", ncols=3)
    cut.set_xlabel("hours after placing begins")
    return figure


def covers() -> Figure:
    """The same slab in November bare, under a blanket from five in the afternoon, and kept wet by day."""
    pour = pour_on(317)
    start = pour.loads[0].placed_from
    figure, (axes,) = sheet(height=3.0)
    evening = start + timedelta(hours=9)
    for label, colour, told in (
        ("bare", INK, ()),
        (
            "blanket, 0.5 m²K/W, overnight",
            ACCENT,
            (Cover(evening, evening + timedelta(hours=16), "blanket", 0.5),),
        ),
        (
            "wet cover from the evening on",
            COOL,
            (Cover(evening, evening + timedelta(hours=72), "wet", 0.02),),
        ),
    ):
        load = seen(replace(pour, covers=told))
        hours = [(point.at - start) / HOUR for point in load.curve]
        axes.plot(hours, [point.surface_temp_c for point in load.curve], color=colour, label=label)
    axes.axvspan(9, 25, color=PALE, lw=0)
    axes.set_xlim(0, 60)
    axes.set_xlabel("hours after placing begins")
    axes.set_ylabel("surface, °C")
    axes.legend()
    return figure
