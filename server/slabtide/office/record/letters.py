"""What the page can print: letters the font lacks become the nearest Latin ones, or a visible mark.

The fonts every PDF reader brings hold the Western European letters (Windows code page 1252). Where a name
needs others and DejaVu Sans is installed, the whole document uses that instead.
"""

import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

MARK = "?"
"""Stands for a letter that can't be printed; a line at the end says so."""
DEJAVU = Path("/usr/share/fonts/truetype/dejavu")
REGULAR, BOLD = DEJAVU / "DejaVuSans.ttf", DEJAVU / "DejaVuSans-Bold.ttf"
_NEAREST = str.maketrans(
    {
        "ł": "l",
        "Ł": "L",
        "đ": "d",
        "Đ": "D",
        "ħ": "h",
        "Ħ": "H",
        "ı": "i",
        "ŋ": "n",
        "ŧ": "t",
        "−": "-",
        "‐": "-",
        "‑": "-",
        "′": "'",
        "″": '"',
        "≥": ">=",
        "≤": "<=",
        "≈": "~",
        "\u2009": " ",
        "\u202f": " ",
        "\u200b": "",
        "\ufeff": "",
    }
)


class Letters:
    """Makes text printable and remembers whether something was lost on the way."""

    def __init__(self, wide: bool = False) -> None:
        self.wide = wide
        self.lost = False
        self._held = _held_by(REGULAR) if wide else frozenset()

    def printable(self, text: str) -> str:
        """`text` in letters the font holds; other control characters than line ends are left out."""
        if text.isascii() and text.isprintable():
            return text
        return "".join(self._letter(letter) for letter in unicodedata.normalize("NFC", text))

    def _letter(self, letter: str) -> str:
        if letter == "\n" or letter == "\u00a0":
            return letter
        if letter == "\t":
            return " "
        if unicodedata.category(letter) in ("Cc", "Cf", "Zl", "Zp"):
            return " " if letter in "\r\u2028\u2029" else ""
        if self.wide:
            return letter if ord(letter) in self._held else self._lose()
        nearest = _in_code_page(letter)
        return self._lose() if nearest is None else nearest

    def _lose(self) -> str:
        self.lost = True
        return MARK


def letters_for(texts: Iterable[str]) -> Letters:
    """Letters wide enough for `texts`, as far as the installed fonts go."""
    foreign = any(_in_code_page(letter) is None for text in texts if not text.isascii() for letter in text)
    return Letters(wide=foreign and REGULAR.is_file() and BOLD.is_file())


@lru_cache(maxsize=4096)
def _in_code_page(letter: str) -> str | None:
    """The letter, or the nearest that code page 1252 holds; None when there is none."""
    if letter.isspace() or unicodedata.category(letter) in ("Cc", "Cf"):
        return letter
    if _fits(letter):
        return letter
    nearest = letter.translate(_NEAREST)
    if nearest != letter:
        return nearest
    bare = "".join(part for part in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(part))
    return bare if bare and bare != letter and _fits(bare) else None


def _fits(text: str) -> bool:
    try:
        text.encode("cp1252")
    except UnicodeEncodeError:
        return False
    return True


@lru_cache(maxsize=1)
def _held_by(file: Path) -> frozenset[int]:
    with TTFont(file, lazy=True) as font:
        return frozenset(font.getBestCmap())
