"""What is in a mix, and when it can be textured."""

from dataclasses import replace
from datetime import timedelta

from matplotlib.figure import Figure
from scripts.plots.paper import ACCENT, INK, SOFT, sheet
from tests.engine.year import pour_on

from slabtide.engine import forecast
from slabtide.engine.pour import Admixture, Mix
from slabtide.engine.recipe import mix_words

HOUR = timedelta(hours=1)
MIXES = {
    "Type III cement": Mix(cement_type="III"),
    "accelerator (C)": Mix(admixtures=(Admixture("C"),)),
    "usual mix": Mix(),
    "water reducer (A)": Mix(admixtures=(Admixture("A"),)),
    "25 % Class C ash": Mix(fly_ash_fraction=0.25, fly_ash_class="C"),
    "25 % Class F ash": Mix(fly_ash_fraction=0.25),
    "40 % slag": Mix(slag_fraction=0.40),
    "retarder (B), half dose": Mix(admixtures=(Admixture("B", 0.5),)),
    "retarder (B)": Mix(admixtures=(Admixture("B"),)),
    "25 % F ash and retarder": Mix(fly_ash_fraction=0.25, admixtures=(Admixture("B"),)),
}


def windows() -> Figure:
    """Texturing by mix, on a warm day and a cool one: 10 % opening to 90 % close, thick where likely."""
    figure, pair = sheet(1, 2, height=3.6)
    for axes, day, title in ((pair[0], 200, "A July day"), (pair[1], 92, "An April day")):
        for row, mix in enumerate(MIXES.values()):
            pour = replace(pour_on(day), mix=mix)
            start = pour.loads[0].placed_from
            window = forecast(pour, pour.loads[0].batched_at).loads[0].windows["texture"]
            if window is None or window.closes is None:
                axes.text(1, row, "no safe window", va="center", fontsize=7, color=ACCENT)
                continue
            ends = (window.opens.early, window.closes.late, window.opens.likely, window.closes.likely)
            early, late, opens, closes = ((at - start) / HOUR for at in ends)
            axes.plot([early, late], [row, row], color=SOFT, lw=1.5)
            axes.plot(
                [opens, closes],
                [row, row],
                color=ACCENT if mix == Mix() else INK,
                lw=6,
                solid_capstyle="butt",
            )
        axes.set_yticks(range(len(MIXES)), MIXES if axes is pair[0] else [""] * len(MIXES))
        axes.invert_yaxis()
        axes.set_xlim(0, None)
        axes.set_xlabel("hours after placing begins")
        axes.set_title(title)
    return figure


if __name__ == "__main__":
    for label, told in MIXES.items():
        print(f"{label}: {mix_words(told)}")
