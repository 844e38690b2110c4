"""`scripts/calibration`: simulated pours with hidden set factors; how often the bands hold what happened."""

import argparse
import sys
import time

from scripts.calibrate.measure import EDGES, Result, measure
from scripts.calibrate.races import races, reliability
from scripts.calibrate.scenes import scenes


def main() -> int:
    parser = argparse.ArgumentParser(prog="scripts/calibration", description=__doc__)
    parser.add_argument("--pours", type=int, default=500, help="pours to simulate (default: %(default)s)")
    parser.add_argument("--seed", type=int, default=1, help="which pours (default: %(default)s)")
    parser.add_argument(
        "--checks", type=int, nargs="+", default=[0, 1, 2, 4], help="checks on the first load"
    )
    parser.add_argument(
        "--sister", action="store_true", help="look at the second load instead of the checked"
    )
    parser.add_argument("--race", action="store_true", help="set the chance to miss beside races run")
    options = parser.parse_args()
    started = time.monotonic()
    loads = 2 if options.race or options.sister else 1
    drawn = scenes(options.pours, options.seed, loads, hours=34 if options.race else 60)
    if options.race:
        for checks in options.checks:
            print_races(checks, reliability(races(drawn, checks)))
        print(
            f"{options.pours} pours, seed {options.seed}, {time.monotonic() - started:.0f} s", file=sys.stderr
        )
        return 0
    results = measure(drawn, options.checks, 1 if options.sister else 0)
    print_table(results)
    print(f"{options.pours} pours, seed {options.seed}, {time.monotonic() - started:.0f} s", file=sys.stderr)
    return 0


def print_races(checks: int, rows: list[tuple[int, float, float]]) -> None:
    """A table in Markdown: chance told beside share missed."""
    print(f"\n| races after {checks} checks | told | missed |\n| --- | --- | --- |")
    for count, told, missed in rows:
        print(f"| {count} | {100 * told:.0f} | {100 * missed:.0f} |")


def print_table(results: dict[int, Result]) -> None:
    """A table in Markdown: per edge and number of checks, shares inside and width."""
    print("| edge | checks | in 50 % | in 80 % | before the middle | 80 % band, min |")
    print("| --- | --- | --- | --- | --- | --- |")
    for edge in EDGES:
        for level, result in results.items():
            tally = result.tallies[edge]
            half, most, below = (f"{100 * share:.0f}" for share in tally.shares())
            print(f"| {edge} | {level} | {half} | {most} | {below} | {tally.width_min():.0f} |")
    flagged = {level: (result.flagged, result.checks) for level, result in results.items()}
    print("\nFlagged: " + ", ".join(f"{a} of {b} at {level}" for level, (a, b) in flagged.items() if b))


if __name__ == "__main__":
    sys.exit(main())
