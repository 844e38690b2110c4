"""How a command fails: in words instead of a traceback, for what a person can put right."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable
from functools import wraps

from slabtide.config import ConfigError
from slabtide.errors import AppError
from slabtide.store.backup import BackupError
from slabtide.store.migrated import NotMigratedError
from slabtide.store.serving import InUseError

Command = Callable[[Namespace], int]


def say(*lines: str) -> None:
    """Lines on standard error."""
    print(*lines, sep="\n", file=sys.stderr)


def in_words(run: Command) -> Command:
    """Turn refusals of our own rooms into words and exit status 1; a wrong setting into status 2."""

    @wraps(run)
    def told(wanted: Namespace) -> int:
        try:
            return run(wanted)
        except ConfigError as problem:
            say(f"slabtide: {problem}")
            return 2
        except AppError as problem:
            say(f"slabtide: {problem.message} {problem.do}")
        except (BackupError, InUseError, NotMigratedError) as problem:
            say(f"slabtide: {problem}")
        return 1

    return told
