"""A soak of reminders: workers killed, the push service at fault, two databases; what is lost or late."""

import argparse
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.conftest import Joined, config_in
from tests.reminders.conftest import Scene
from tests.reminders.push_service import PushService
from tests.reminders.soak import Soak, Verdict, environment_of
from tests.store.conftest import HERE, cluster

from slabtide.app import create_app
from slabtide.config import config_of
from slabtide.people.companies import create_company
from slabtide.people.joining import join_person
from slabtide.reminders import worker
from slabtide.reminders.keys import make_key
from slabtide.store import database, migrated


@contextmanager
def scene_on(database_url: str | None, home: Path) -> Iterator[Scene]:
    """A company on an empty database, with a push service of its own."""
    config = config_in(home) if database_url is None else config_in(home, database_url=database_url)
    app = create_app(config, check_database=False)
    migrated.upgrade(app)
    make_key(config_of(app).vapid_key_file)
    with app.app_context():
        company = create_company("Harbor Flatwork")
    service = PushService()
    yield Scene(app, app.test_client(), company, service)
    service.close()
    worker.close(app)
    database.dispose(app)


def add_foreman(scene: Scene, phone: str) -> None:
    with scene.app.app_context():
        made = join_person(scene.company, f"foreman {phone}", "foreman", device_name=phone)
    who = Joined(made.token, made.device_id, made.person_id, made.person_name, "foreman", scene.company)
    scene.subscribe(who, phone)


def soak(database_url: str | None, asked: argparse.Namespace, workers: int) -> Verdict:
    home = Path(tempfile.mkdtemp(prefix="slabtide-soak-"))
    try:
        with scene_on(database_url, home) as scene:
            for number in range(asked.phones):
                add_foreman(scene, f"p{number}")
            more = {} if database_url is None else {"SLABTIDE_DATABASE_URL": database_url}
            environment = environment_of(SLABTIDE_HOME=home, **more)
            run = Soak(scene, environment, asked.seed, asked.reminders // 4, asked.days, asked.phones)
            return run.run(workers, asked.kills)
    finally:
        shutil.rmtree(home)


def tell(name: str, verdict: Verdict, took_s: float) -> bool:
    print(f"{name}: {verdict}, {took_s:.0f} s", flush=True)
    for line in [*verdict.lost, *verdict.late_otherwise][:20]:
        print(f"  {line}")
    return not verdict.lost and not verdict.late_otherwise


def main() -> None:
    parser = argparse.ArgumentParser(prog="scripts/bench reminders", description=__doc__)
    parser.add_argument("--reminders", type=int, default=10_000, help="how many, four to a slab (10,000)")
    parser.add_argument("--days", type=int, default=5, help="simulated days (default 5)")
    parser.add_argument("--phones", type=int, default=2, help="phones each is told to (default 2)")
    parser.add_argument("--kills", type=int, default=40, help="workers killed (default 40)")
    parser.add_argument("--workers", type=int, default=3, help="worker processes on PostgreSQL (default 3)")
    parser.add_argument("--seed", type=int, default=1, help="of times, kills and faults (default 1)")
    parser.add_argument("--on", choices=("sqlite", "postgresql", "both"), default="both")
    asked = parser.parse_args()
    good = True
    if asked.on != "postgresql":
        began = time.monotonic()
        good &= tell("SQLite, one worker", soak(None, asked, 1), time.monotonic() - began)
    if asked.on != "sqlite":
        if not HERE:
            raise SystemExit("bench: PostgreSQL is not installed here; --on sqlite leaves it out")
        with cluster() as url:
            began = time.monotonic()
            told = soak(url, asked, asked.workers)
            good &= tell(f"PostgreSQL, {asked.workers} workers", told, time.monotonic() - began)
    raise SystemExit(0 if good else 1)


if __name__ == "__main__":
    main()
