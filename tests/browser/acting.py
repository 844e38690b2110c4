"""What a person does on a screen, by the names they see: fill a field and leave it, press, pick, open."""

import re

from playwright.sync_api import Locator, Page

# What comes sooner after a plan changed under a finger is taken for the same touch of a wet glove.
BOUNCE_MS = 600


def drop_pin(page: Page, x: int, y: int) -> None:
    """Touches the plan that takes pins, and drops one there."""
    plan = page.get_by_role("application")
    plan.wait_for()
    page.wait_for_timeout(BOUNCE_MS)
    plan.click(position={"x": x, "y": y})
    page.wait_for_timeout(BOUNCE_MS)
    press(page, "Drop the pin")


def fill(within: Page | Locator, label: str, text: str) -> None:
    """Types into the field of this name and leaves it, which is when screens take it."""
    box = within.get_by_label(label, exact=True).and_(within.locator("input, textarea"))
    box.fill(text)
    box.blur()


def press(within: Page | Locator, name: str | re.Pattern[str]) -> None:
    within.get_by_role("button", name=name, exact=isinstance(name, str)).click()


def pick(within: Page | Locator, label: str) -> None:
    """Picks an option of a choice by its words; its hint stands in the same label."""
    within.locator("label").filter(has_text=re.compile(rf"^{re.escape(label)}")).first.click()


def open_part(page: Page, part: str) -> Locator:
    """Opens the form of one part of the layout, and gives that part."""
    press(page, re.compile(rf"^(Enter|Change): {re.escape(part)}$"))
    return page.get_by_role("region", name=part, exact=True)


def save(part: Locator) -> None:
    """Saves a part's form; it closes when the phone has kept it."""
    press(part, "Save")
    part.get_by_role("button", name="Save", exact=True).wait_for(state="detached")
