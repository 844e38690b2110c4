"""A server starts without what only a rare request needs: starts would wait for it, and servers keep it."""

import subprocess
import sys

# The record's printing, what it draws letters with, and what that brings along where it is installed.
RARE = {"fpdf", "fontTools", "numpy"}


def test_a_server_starts_without_what_prints_the_record() -> None:
    asked = "import sys, slabtide.cli.serve; print(*{name.split('.')[0] for name in sys.modules})"
    told = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    loaded = set(told.stdout.split())
    assert "flask" in loaded
    assert not loaded & RARE
