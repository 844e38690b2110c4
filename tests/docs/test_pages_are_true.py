"""What README, DEVELOPERS and docs speak of exists: paths, links, commands, options, endpoints, settings."""

import json
import os
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from tests.docs.pages import ROOT, links, pages, shell_lines, spans, tracked

from slabtide.app import create_app

COMMAND = Path(sys.executable).parent / "slabtide"
TOPS = ("server", "pwa", "tests", "scripts", "docs")
ENDPOINT = re.compile(r"^(?:(GET|POST|PUT|DELETE) )?(/api/[\w/{}<>:.-]*)")
SETTING = re.compile(r"SLABTIDE_[A-Z_]+")
# Made by setup, by a build or by running: named in the pages, absent from a fresh clone.
MADE = re.compile(r"^(\.venv|var|pwa/(dist|node_modules))(/|$)")


def commands() -> list[tuple[str, list[str]]]:
    """Each `slabtide …` that a page shows, as (page, words)."""
    said = [*spans(), *shell_lines()]
    found = [(each.page, re.sub(r"^(\w+=\S+ )+", "", each.text).split()) for each in said]
    names = {"slabtide", ".venv/bin/slabtide"}
    return [(page, words[1:]) for page, words in found if words and words[0] in names and len(words) > 1]


@cache
def help_of(*subcommand: str) -> str | None:
    """The help page of a subcommand; None when there is no such one."""
    done = subprocess.run([COMMAND, *subcommand, "--help"], capture_output=True, text=True)
    return done.stdout if done.returncode == 0 else None


def is_path(span: str) -> bool:
    return re.fullmatch(r"[\w.@*/-]+", span) is not None and span.split("/")[0] in TOPS and "/" in span


@pytest.mark.parametrize("page", pages(), ids=lambda page: page.name)
def test_the_page_exists_and_says_something(page: Path) -> None:
    assert len(page.read_text()) > 500


def test_every_path_in_code_style_exists() -> None:
    gone = [
        each for each in spans()
        if is_path(each.text) and not MADE.match(each.text) and not list(ROOT.glob(each.text.rstrip("/")))
    ]  # fmt: skip
    assert not gone


def test_every_link_leads_somewhere() -> None:
    gone = [(page.name, target) for page, target in links() if not (page.parent / target).exists()]
    assert not gone


def test_every_picture_in_the_pages_is_in_version_control() -> None:
    pictures = [(page, target) for page, target in links() if target.endswith(".png")]
    lost = [
        target
        for page, target in pictures
        if os.path.relpath((page.parent / target).resolve(), ROOT) not in tracked()
    ]
    assert pictures
    assert not lost


def test_every_script_shown_exists_and_runs() -> None:
    shown = {
        each.text.split()[0].removeprefix("./") for each in [*spans(), *shell_lines()] if each.text.split()
    }
    scripts = {name for name in shown if re.fullmatch(r"scripts/[\w-]+|\.ci/run", name)}
    assert {"scripts/setup", "scripts/run", "scripts/test"} <= scripts
    assert not [name for name in scripts if not os.access(ROOT / name, os.X_OK)]


def test_every_option_of_a_script_is_in_that_script() -> None:
    unknown = []
    for each in [*spans(), *shell_lines()]:
        script, *words = each.text.split() or [""]
        if script.startswith("scripts/"):
            text = (ROOT / script).read_text()
            unknown += [(each, word) for word in words if word.startswith("--") and word not in text]
    assert not unknown


@pytest.mark.parametrize(("page", "words"), commands(), ids=lambda value: str(value))
def test_every_command_shown_exists_with_its_options(page: str, words: list[str]) -> None:
    lower = [word for word in words if re.fullmatch(r"[a-z][a-z-]*", word)]
    helps = [text for depth in range(1, len(lower) + 1) if (text := help_of(*lower[:depth]))]
    assert helps, f"{page}: slabtide {' '.join(words)}"
    for option in (word.split("=")[0] for word in words if word.startswith("--")):
        assert any(option in text for text in helps), f"{page}: slabtide {' '.join(words)} has no {option}"


def test_every_npm_script_shown_exists() -> None:
    known = json.loads((ROOT / "pwa/package.json").read_text())["scripts"]
    said = " \n".join(each.text for each in [*spans(), *shell_lines()])
    assert set(re.findall(r"npm run (?:--\S+ (?:pwa )?)*([a-z]+)", said)) <= set(known)


def test_every_endpoint_named_is_served(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SLABTIDE_HOME", str(tmp_path))
    rules = create_app(check_database=False).url_map.iter_rules()
    served = [(re.sub(r"<[^>]+>", "{}", rule.rule), rule.methods or set()) for rule in rules]
    unknown = []
    for each in spans():
        if match := ENDPOINT.match(each.text):
            path = re.sub(r"[{<][^}>]*[}>]", "{}", match[2].rstrip("/"))
            if not any(path == rule and (match[1] or "GET") in {*methods, *({"GET"} - {match[1]})}
                       for rule, methods in served):  # fmt: skip
                unknown.append(each)
    assert not unknown


def test_every_setting_named_is_read_and_every_setting_read_is_named() -> None:
    read = set(SETTING.findall((ROOT / "server/slabtide/config.py").read_text()))
    places = ("scripts/", "server/", "tests/browser/")
    sources = [name for name in tracked() if name.startswith(places) and not name.endswith((".png", ".json"))]
    elsewhere = "".join((ROOT / name).read_text() for name in sources)
    named = set(SETTING.findall("".join(page.read_text() for page in pages())))
    assert named <= set(SETTING.findall(elsewhere))
    assert read <= set(SETTING.findall((ROOT / "docs/deploy.md").read_text()))
