"""What a screen must keep: no accessibility violation, contrast of 7 to 1, targets fit for a glove."""

from functools import cache
from pathlib import Path
from typing import Any

from playwright.sync_api import Page
from tests.browser.serving import ROOT

TARGET_PX = 48


@cache
def sources() -> str:
    judging = Path(__file__).with_name("judging.js").read_text()
    return (ROOT / "pwa/node_modules/axe-core/axe.min.js").read_text() + "\n" + judging


def bring(page: Page) -> None:
    """Once to a document. Evaluated rather than loaded: the page's own policy refuses foreign scripts."""
    if not page.evaluate("'judging' in globalThis"):
        page.evaluate(sources())


def violations(page: Page) -> list[dict[str, Any]]:
    """What axe finds on the screen as it is drawn, each with the rule, its words and up to three places."""
    bring(page)
    found: list[dict[str, Any]] = page.evaluate("judging.violations()")
    return found


def small_targets(page: Page) -> list[str]:
    """Everything a finger should hit that is under 48 px either way, with its size."""
    bring(page)
    found: list[str] = page.evaluate("(least) => judging.smallTargets(least)", TARGET_PX)
    return found


def faults_by_state(page: Page, folded: bool) -> tuple[dict[str, list[str]], list[str]]:
    """Everything wrong with the screen, by state and light, and the names of what was opened for it.

    `folded`: open all that is folded, and judge each part and then the whole; else the screen as it comes.
    Both in the light it has and in the other, where only contrast is asked again.
    """
    bring(page)
    asked = [TARGET_PX, folded]
    wrong, opened = page.evaluate("([least, folded]) => judging.eachState(least, folded)", asked)
    return wrong, opened


def scrolls_away(page: Page) -> int:
    """By how many pixels the page itself can be scrolled: only the screen inside the shell may be."""
    over: int = page.evaluate("document.documentElement.scrollHeight - innerHeight")
    return over


def runs_over(page: Page) -> int:
    """By how many pixels the screen is wider than its window."""
    over: int = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return over


def faults(page: Page) -> list[str]:
    """Everything wrong with the screen as it comes, in the light it has."""
    found = [f"{each['id']}: {each['help']}: {each['where']}" for each in violations(page)]
    found += [f"under {TARGET_PX} px: {each}" for each in small_targets(page)]
    if over := runs_over(page):
        found.append(f"{over} px wider than the window")
    return found
