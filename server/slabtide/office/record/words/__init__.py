"""The record's words, one table for each language."""

import re
from typing import Any

from slabtide.office.record.contract import Language
from slabtide.office.record.words import checklist_en, checklist_es, en, es

_TABLES: dict[Language, dict[str, str]] = {
    "en": en.WORDS | checklist_en.WORDS,
    "es": es.WORDS | checklist_es.WORDS,
}
_COUNTED = re.compile(r"\{(\w+)\|([^|{}]*)\|([^|{}]*)\}")


class Words:
    """The words of one language. `words("key", name=value)`; `{n|one|many}` chooses by the number `n`."""

    def __init__(self, language: Language) -> None:
        self.language = language
        self._table = _TABLES[language]

    def __call__(self, key: str, **values: Any) -> str:
        text = self._table[key]
        if not values:
            return text
        chosen = _COUNTED.sub(lambda found: found[2] if values[found[1]] == 1 else found[3], text)
        return chosen.format(**values)

    def has(self, key: str) -> bool:
        """Whether there are words for `key`."""
        return key in self._table

    def item(self, name: str, slug: str) -> str:
        """A checklist's item; one from a newer version of the lists shows its short name."""
        return self._table.get(f"item.{name}.{slug}", slug.replace("_", " "))
