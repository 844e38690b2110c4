"""The `slabtide` command."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Sequence

from slabtide.cli.options import parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status: 0 done, 1 failed, 2 wrong input."""
    wanted = parser().parse_args(arguments)
    # Database, photos and backups are for the account that runs the server alone.
    os.umask(0o077)
    # Each command's own module comes in only now: `timeline` needs no web server to start.
    module, _, function = wanted.run.partition(":")
    run = getattr(importlib.import_module(f"slabtide.cli.{module}"), function)
    try:
        status: int = run(wanted)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read our output has seen enough; the interpreter must not fail at flushing the rest.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except KeyboardInterrupt:
        return 130
    return status
