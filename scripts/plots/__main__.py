"""Draws every picture, or the ones named."""

import argparse
import time
from pathlib import Path

import matplotlib

matplotlib.use("Agg")

from scripts.plots import checks, days, mixes, year, year_counts
from scripts.plots.paper import save

FOLDER = Path(__file__).parents[2] / "docs" / "pictures" / "engine"
PICTURES = {
    "slab": days.slab,
    "covers": days.covers,
    "year-texture": year.texture,
    "year-saw": year.saw,
    "mixes": mixes.windows,
    "set-times": checks.set_times,
    "evaporation": checks.evaporation,
    "strength": checks.strength,
    "heat": checks.heat,
}


def main() -> int:
    parser = argparse.ArgumentParser(prog="scripts/engine-plots", description=__doc__)
    parser.add_argument("names", nargs="*", metavar="NAME", help="one of " + ", ".join(PICTURES))
    wanted = parser.parse_args().names
    unknown = [name for name in wanted if name not in PICTURES]
    if unknown:
        parser.error(f"no picture is called {unknown[0]}; there are: {', '.join(PICTURES)}")
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, draw in PICTURES.items():
        if wanted and name not in wanted:
            continue
        start = time.perf_counter()
        path = FOLDER / f"{name}.png"
        save(draw(), path)
        print(f"{name}: {path.stat().st_size / 1024:.0f} kB, {time.perf_counter() - start:.1f} s")
    if any(name.startswith("year") for name in wanted or PICTURES):
        print("\n".join(year_counts.rows()))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
