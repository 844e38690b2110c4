"""Reads the repository's own pages: the words in code style, the commands in blocks, the links."""

import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
FENCE = re.compile(r"^```(\w*)\n(.*?)^```", re.MULTILINE | re.DOTALL)
SPAN = re.compile(r"`([^`\n]+)`")
LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)]*)?\)")


@dataclass(frozen=True)
class Found:
    """Something a page says, and on which page."""

    page: str
    text: str


def pages() -> list[Path]:
    return [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]


def spans() -> Iterator[Found]:
    """Every `code span` outside of blocks."""
    for page in pages():
        for span in SPAN.findall(FENCE.sub("", page.read_text())):
            yield Found(page.name, span)


def shell_lines() -> Iterator[Found]:
    """Every command line in a block marked sh, without its comment."""
    for page in pages():
        for language, block in FENCE.findall(page.read_text()):
            if language == "sh":
                for line in block.replace("\\\n", " ").splitlines():
                    if command := line.split(" #")[0].strip():
                        yield Found(page.name, command)


def links() -> Iterator[tuple[Path, str]]:
    for page in pages():
        for target in LINK.findall(page.read_text()):
            if "://" not in target and not target.startswith("mailto:"):
                yield page, target


@cache
def tracked() -> tuple[str, ...]:
    """Every file in version control, by its path from the root."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True)
    return tuple(name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file())
