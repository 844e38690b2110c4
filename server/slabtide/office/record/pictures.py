"""Photos on paper: made small enough to print well and mail easily, two or three abreast."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from PIL import Image

from slabtide.office.record.paper import FAINT, MARGIN_MM, SOFT, Paper

PX_PER_MM = 240 / 25.4
"""What a photo keeps when printed: 240 dots to the inch."""
QUALITY = 74
GAP_MM = 5.0
CAPTION_MM = 3.4


@dataclass(frozen=True, slots=True)
class Shot:
    """A photo and what stands below it."""

    photo: str
    caption: str


def photo_grid(
    paper: Paper, shots: Sequence[Shot], files: Mapping[str, Path], abreast: int, high_mm: float
) -> int:
    """Draw the photos that the server holds; says how many could not be drawn."""
    width = (paper.wide_mm - GAP_MM * (abreast - 1)) / abreast
    held = [shot for shot in shots if shot.photo in files]
    drawn = 0
    for begin in range(0, len(held), abreast):
        row = held[begin : begin + abreast]
        paper.write_with(8, colour=SOFT)
        captions = [paper.wrapped(shot.caption, width)[:4] for shot in row]
        height = high_mm + CAPTION_MM * max(len(lines) for lines in captions) + 4
        paper.need(height)
        for index, shot in enumerate(row):
            x = MARGIN_MM + index * (width + GAP_MM)
            drawn += _picture(paper, files[shot.photo], x, paper.y_mm + 1, width, high_mm)
            paper.write_with(8, colour=SOFT)
            for line, text in enumerate(captions[index]):
                paper.text(x, paper.y_mm + high_mm + 4 + CAPTION_MM * line, text)
        paper.y_mm += height
    return len(shots) - drawn


def _picture(paper: Paper, file: Path, x: float, y: float, wide_mm: float, high_mm: float) -> bool:
    small = _small(file, round(max(wide_mm, high_mm) * PX_PER_MM))
    if small is None:
        return False
    with small:
        fit = min(wide_mm / small.width, high_mm / small.height)
        wide, high = small.width * fit, small.height * fit
        data = BytesIO()
        small.save(data, "JPEG", quality=QUALITY)
    data.seek(0)
    paper.image(data, x=x, y=y, w=wide, h=high)
    paper.set_draw_color(*FAINT)
    paper.set_line_width(0.2)
    paper.rect(x, y, wide, high)
    return True


def _small(file: Path, longest_px: int) -> Image.Image | None:
    """The stored photo, no longer than that on a side; None when its file is gone or damaged."""
    try:
        with Image.open(file, formats=("JPEG",)) as image:
            image.draft("RGB", (longest_px, longest_px))
            plain = image.convert("RGB")
    except (OSError, SyntaxError, ValueError):
        return None
    plain.thumbnail((longest_px, longest_px), Image.Resampling.HAMMING)
    plain.info.clear()
    return plain
