"""Commands that only tell: version and kinds."""

from __future__ import annotations

import sys
from argparse import Namespace
from importlib.metadata import version as installed

from slabtide.log import generate


def version(wanted: Namespace) -> int:
    """Print the version."""
    print(installed("slabtide"))
    return 0


def kinds(wanted: Namespace) -> int:
    """Print what is generated from the kinds, as the committed files have it."""
    if wanted.typescript:
        sys.stdout.write(generate.typescript())
    elif wanted.json_schema:
        sys.stdout.write(generate.json_schema_text())
    else:
        sys.stdout.write(generate.lists_typescript())
    return 0
