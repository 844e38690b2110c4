"""A simulated day, workers killed, the push service at fault: none lost, none late for our own sake."""

from collections.abc import Callable
from pathlib import Path

from tests.conftest import Joined
from tests.reminders.conftest import Scene
from tests.reminders.soak import FAULTS, Soak, environment_of

from slabtide.reminders.dispatch import AT_ONCE

SEED, JOBS, DAYS, KILLS = 20261125, 12, 1, 3


def test_no_reminder_is_lost_or_late_for_our_own_sake_through_kills_and_faults(
    scene: Scene, home: Path, join: Callable[..., Joined]
) -> None:
    for number in range(2):
        scene.subscribe(join("foreman"), f"p{number}")
    soak = Soak(scene, environment_of(SLABTIDE_HOME=home), SEED, JOBS, DAYS, phones=2)
    verdict = soak.run(workers=1, kills=KILLS)
    print(verdict)
    assert verdict.kills == KILLS
    assert verdict.met == set(FAULTS), "a fault that no push met tries nothing"
    assert verdict.lost == []
    assert verdict.late_otherwise == []
    assert verdict.twice <= AT_ONCE * KILLS
