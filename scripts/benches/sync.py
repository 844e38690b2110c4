"""The sync server alone: events a second up and down, 200 phones at once, a call against an empty route."""

import argparse
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from scripts.benches.many_phones.alone import bare_beside, up_and_down
from scripts.benches.many_phones.crews import Crews, every_few_seconds
from tests.browser.serving import Server
from tests.store.conftest import HERE, cluster

UP, DOWN, P99_MS, SHARE = 15_000, 50_000, 100, 0.5


@contextmanager
def serving(url: str | None) -> Iterator[Server]:
    """A server on a database of its own, with a company in it."""
    with tempfile.TemporaryDirectory(prefix="slabtide-sync-") as folder:
        more = {"SLABTIDE_DATABASE_URL": url} if url else {}
        server = Server(Path(folder), SLABTIDE_TICK_SECONDS="2", **more)
        server.command("migrate")
        server.command("company", "create", "Harbor Flatwork")
        server.start()
        try:
            yield server
        finally:
            server.stop()


def told(what: str, figure: float, aim: float, unit: str, at_most: bool = False) -> bool:
    """Prints a figure beside what is aimed at, and how busy the machine is; whether it is met."""
    good = figure <= aim if at_most else figure >= aim
    bound = "at most" if at_most else "at least"
    number = f"{figure:,.0f}" if figure >= 10 else f"{figure:.2f}"
    print(
        f"{what}: {number}{unit} ({bound} {aim:,}{unit}{'' if good else ', MISSED'};"
        f" load {os.getloadavg()[0]:.1f})",
        flush=True,
    )
    return good


def measured(name: str, url: str | None, asked: argparse.Namespace) -> bool:
    print(f"{name}:", flush=True)
    with serving(url) as server:
        shares = bare_beside(server, asked.rounds)
        print(f"  one call {shares.sync_ms:.2f} ms, the empty route {shares.bare_ms:.2f} ms, in turns")
        good = told("  calls without news against an empty route", shares.share, SHARE, "")
        up, down = up_and_down(server, asked.events)
        good &= told("  events up", up, UP, "/s")
        good &= told("  events down", down, DOWN, "/s")
    with serving(url) as server:
        crews = Crews(server, asked.phones, asked.jobs)
        waits = every_few_seconds(crews, asked.every, asked.seconds)
        middle, high = waits[len(waits) // 2], waits[len(waits) * 99 // 100]
        print(
            f"  {len(waits)} calls of {asked.phones} phones in {asked.seconds} s: median {middle:.0f} ms, "
            f"worst {waits[-1]:.0f} ms"
        )
        good &= told("  of 100 calls the slowest but one takes", high, P99_MS, " ms", at_most=True)
    return good


def main() -> int:
    parser = argparse.ArgumentParser(prog="scripts/bench sync", description=__doc__)
    parser.add_argument("--events", type=int, default=10_000, help="sent up, then down (10,000)")
    parser.add_argument("--phones", type=int, default=200, help="at once (200)")
    parser.add_argument("--jobs", type=int, default=20, help="slabs they work on (20)")
    parser.add_argument("--every", type=float, default=15.0, help="seconds between two calls of a phone (15)")
    parser.add_argument("--seconds", type=float, default=60.0, help="how long (60)")
    parser.add_argument("--rounds", type=int, default=7, help="turns of the call and the empty route (7)")
    parser.add_argument("--on", choices=("sqlite", "postgresql", "both"), default="sqlite")
    asked = parser.parse_args()
    if asked.on != "sqlite" and not HERE:
        raise SystemExit("bench: PostgreSQL is not installed here; --on sqlite leaves it out")
    good = True
    if asked.on != "postgresql":
        good &= measured("SQLite", None, asked)
    if asked.on != "sqlite":
        with cluster() as url:
            good &= measured("PostgreSQL", url, asked)
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
