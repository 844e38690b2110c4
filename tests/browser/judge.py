"""What a screen must keep: no accessibility violation, contrast of 7 to 1, targets fit for a glove."""

from functools import cache
from typing import Any

from playwright.sync_api import Page
from tests.browser.serving import ROOT

TARGET_PX = 48

RUN_AXE = """async () => {
  const rules = { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } };
  const { violations } = await axe.run(document, { rules });
  const where = (nodes) => nodes.slice(0, 3).map((node) => node.html.slice(0, 200));
  return violations.map(({ id, help, nodes }) => ({ id, help, where: where(nodes) }));
}"""

# A radio's target is its label. A link inside a sentence is as tall as its line, and is let off.
SMALL_TARGETS = """(least) => {
  const small = [];
  const touched = 'button, a[href], input, select, textarea, summary, [role=checkbox], [tabindex="0"]';
  for (const one of document.querySelectorAll(touched)) {
    const target = (one.matches('input[type=radio], input[type=checkbox]') && one.closest('label')) || one;
    const { width, height } = target.getBoundingClientRect();
    const hidden = width === 0 || !one.checkVisibility({ visibilityProperty: true, opacityProperty: true });
    const clipped = width <= 1 && height <= 1;
    const inSentence = one.matches('p a, li a') && getComputedStyle(one).display === 'inline';
    if (hidden || clipped || inSentence || one.disabled) continue;
    if (Math.round(width) < least || Math.round(height) < least) {
      small.push(`${Math.round(width)}x${Math.round(height)} ${target.outerHTML.slice(0, 160)}`);
    }
  }
  return small;
}"""


@cache
def axe_source() -> str:
    return (ROOT / "pwa/node_modules/axe-core/axe.min.js").read_text()


def violations(page: Page) -> list[dict[str, Any]]:
    """What axe finds on the screen as it is drawn, each with the rule, its words and up to three places."""
    # Evaluated rather than loaded: the page's own policy refuses foreign scripts.
    page.evaluate(axe_source())
    found: list[dict[str, Any]] = page.evaluate(RUN_AXE)
    return found


def small_targets(page: Page) -> list[str]:
    """Everything a finger should hit that is under 48 px either way, with its size."""
    found: list[str] = page.evaluate(SMALL_TARGETS, TARGET_PX)
    return found


def runs_over(page: Page) -> int:
    """By how many pixels the screen is wider than its window."""
    over: int = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return over
