"""What a person does on a screen, by the names they see: fill a field and leave it, press, pick, open."""

import re

from playwright.sync_api import Locator, Page


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
