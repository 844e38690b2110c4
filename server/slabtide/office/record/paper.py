"""The sheets the record is printed on: headings, facts, tables, paragraphs, flowing over pages.

Lengths in millimetres, type in points. The same content gives the same bytes.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from typing import Literal

from fpdf import FPDF

from slabtide.office.record.contract import Language, System
from slabtide.office.record.letters import BOLD, REGULAR, Letters

Colour = tuple[int, int, int]
INK: Colour = (18, 23, 26)
SOFT: Colour = (63, 71, 74)
ACCENT: Colour = (0, 70, 79)
LINE: Colour = (123, 128, 125)
FAINT: Colour = (214, 211, 200)
GROUND: Colour = (246, 244, 237)
WARN: Colour = (99, 51, 0)
MARGIN_MM, FOOT_MM = 18.0, 16.0
MM_PER_PT = 25.4 / 72
LEADING = 1.32
Style = Literal["", "B"]
Footer = Callable[[int], str]


class Paper(FPDF):
    """A document being written, top to bottom."""

    def __init__(self, system: System, language: Language, letters: Letters, made: datetime) -> None:
        super().__init__(orientation="portrait", unit="mm", format="letter" if system == "us" else "a4")
        self.letters = letters
        self.face = "Helvetica"
        self.core_fonts_encoding = "cp1252"
        if letters.wide:
            self.face = "DejaVu"
            self.add_font(self.face, "", REGULAR)
            self.add_font(self.face, "B", BOLD)
        self.set_creation_date(made)
        self.set_lang("en-US" if language == "en" else "es-US")
        self.set_margins(MARGIN_MM, MARGIN_MM, MARGIN_MM)
        self.set_auto_page_break(False)
        self.foot_words: Footer = lambda page: ""
        self._widths: dict[tuple[Style, float, str], float] = {}
        self.y_mm = MARGIN_MM
        self.write_with(10)

    @property
    def wide_mm(self) -> float:
        """From margin to margin."""
        return float(self.w) - 2 * MARGIN_MM

    @property
    def left_mm(self) -> float:
        """How much of the page is still free below the last line."""
        return float(self.h) - FOOT_MM - 4 - self.y_mm

    def write_with(self, size_pt: float, style: Style = "", colour: Colour = INK) -> None:
        """Choose type and colour for what comes next."""
        self.set_font(self.face, style, size_pt)
        self.set_text_color(*colour)

    def new_page(self) -> None:
        """Begin a page at its top."""
        self.add_page()
        self.y_mm = MARGIN_MM

    def need(self, height_mm: float) -> bool:
        """Begin a new page unless so much is free; says whether it did."""
        if height_mm <= self.left_mm:
            return False
        self.new_page()
        return True

    def footer(self) -> None:
        """The line at the foot of each page."""
        self.write_with(8, colour=SOFT)
        base = float(self.h) - FOOT_MM + 6
        self.line_at(MARGIN_MM, base - 5, MARGIN_MM + self.wide_mm, base - 5, FAINT)
        self.set_xy(MARGIN_MM, base - 3.2)
        self.set_x(MARGIN_MM - self.c_margin)
        # A cell, since only there the count of pages is filled in at the end.
        self.cell(self.wide_mm, 4, self.letters.printable(self.foot_words(self.page)))

    def line_at(
        self, x1: float, y1: float, x2: float, y2: float, colour: Colour = LINE, width_mm: float = 0.2
    ) -> None:
        """A straight line."""
        self.set_draw_color(*colour)
        self.set_line_width(width_mm)
        self.line(x1, y1, x2, y2)

    def headline(self, words: str, under: str = "") -> None:
        """The document's own heading."""
        self.write_with(20, "B", ACCENT)
        for line in self.wrapped(words, self.wide_mm):
            self.y_mm += 20 * MM_PER_PT * 1.1
            self.text(MARGIN_MM, self.y_mm, line)
        if under:
            self.y_mm += 1
            self.paragraph(under, colour=SOFT)
        self.y_mm += 2
        self.line_at(MARGIN_MM, self.y_mm, MARGIN_MM + self.wide_mm, self.y_mm, ACCENT, 0.6)
        self.y_mm += 2

    def heading(self, words: str, keep_mm: float = 22) -> None:
        """A section's heading, with at least `keep_mm` of it on the same page; a bookmark leads here."""
        if not self.need(keep_mm + 11.5):
            self.y_mm += 3.5
        self.set_xy(MARGIN_MM, self.y_mm)
        self.start_section(self.letters.printable(words))
        self.write_with(13, "B", ACCENT)
        self.y_mm += 5.5
        self.text(MARGIN_MM, self.y_mm, self.letters.printable(words))
        self.y_mm += 2.2

    def subheading(self, words: str, keep_mm: float = 14) -> None:
        """A heading inside a section."""
        if not self.need(keep_mm + 7):
            self.y_mm += 2
        self.write_with(10, "B")
        self.y_mm += 4.4
        self.text(MARGIN_MM, self.y_mm, self.letters.printable(words))
        self.y_mm += 1.6

    def paragraph(self, words: str, size_pt: float = 9.5, colour: Colour = INK, style: Style = "") -> None:
        """Running text across the page."""
        self.write_with(size_pt, style, colour)
        step = size_pt * MM_PER_PT * LEADING
        lines = self.wrapped(words, self.wide_mm)
        self.need(step * min(len(lines), 4))
        self.write_with(size_pt, style, colour)
        for line in lines:
            if self.need(step):
                self.write_with(size_pt, style, colour)
            self.y_mm += step
            self.text(MARGIN_MM, self.y_mm - step * 0.22, line)
        self.y_mm += 0.8

    def points(self, lines: Sequence[str], size_pt: float = 9.5) -> None:
        """Short sentences, each with a mark before it."""
        step = size_pt * MM_PER_PT * LEADING
        for words in lines:
            self.write_with(size_pt)
            wrapped = self.wrapped(words, self.wide_mm - 4)
            if self.need(step * len(wrapped)):
                self.write_with(size_pt)
            self.text(MARGIN_MM + 0.6, self.y_mm + step * 0.78, "•")
            for line in wrapped:
                self.y_mm += step
                self.text(MARGIN_MM + 4, self.y_mm - step * 0.22, line)
            self.y_mm += 0.6

    def facts(self, rows: Sequence[tuple[str, str | None]], label_mm: float = 46) -> None:
        """Names and values; a value of None leaves the row out."""
        size = 9.5
        step = size * MM_PER_PT * LEADING
        for label, value in rows:
            if value is None:
                continue
            self.write_with(size)
            lines = self.wrapped(value, self.wide_mm - label_mm)
            names = self.wrapped(label, label_mm - 3)
            self.need(step * max(len(lines), len(names)) + 1)
            top = self.y_mm
            for colour, x, texts in ((SOFT, MARGIN_MM, names), (INK, MARGIN_MM + label_mm, lines)):
                self.write_with(size, colour=colour)
                for index, line in enumerate(texts):
                    self.text(x, top + step * (index + 0.78), line)
            self.y_mm = top + step * max(len(lines), len(names)) + 0.7

    def measured(self, word: str) -> float:
        """The printed width of printable text in the type chosen, mm."""
        key = (self.font_style.replace("U", ""), float(self.font_size_pt), word)
        found = self._widths.get(key)  # type: ignore[arg-type]
        if found is None:
            found = float(self.get_string_width(word))
            if len(word) <= 24:
                self._widths[key] = found  # type: ignore[index]
        return found

    def wrapped(self, words: str, width_mm: float) -> list[str]:
        """`words` as lines that fit a width; at least one line. A word too long for a line is cut."""
        lines: list[str] = []
        for part in self.letters.printable(words).split("\n"):
            lines.extend(self._wrapped_part(part, width_mm))
        return lines or [""]

    def _wrapped_part(self, part: str, width_mm: float) -> Iterator[str]:
        width_mm += 0.01  # a word may fill its column to the last decimal
        line, used, blank = "", 0.0, self.measured(" ")
        for word in part.split(" "):
            wide = self.measured(word)
            if line and used + blank + wide <= width_mm:
                line, used = f"{line} {word}", used + blank + wide
                continue
            if line:
                yield line
            while wide > width_mm and len(word) > 1:
                head = self._fitting(word, width_mm)
                yield head
                word = word[len(head) :]
                wide = self.measured(word)
            line, used = word, wide
        yield line

    def _fitting(self, word: str, width_mm: float) -> str:
        count = max(1, int(len(word) * width_mm / max(self.measured(word), 0.1)))
        while count > 1 and self.measured(word[:count]) > width_mm:
            count -= 1
        return word[:count]

    @contextmanager
    def held(self) -> Iterator[None]:
        """Drawing in between leaves line style, colours and type as they were."""
        with self.local_context():
            yield
        self.write_with(10)
