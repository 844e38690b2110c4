"""Draw the app's icons: one rising band of concrete with its window filled.

Run from anywhere; writes pwa/public/icons. The drawing is described once, in a square of 512,
and written as SVG and, with Pillow, as PNG.
"""

from pathlib import Path

from PIL import Image, ImageChops, ImageDraw

OUT = Path(__file__).resolve().parent.parent / "public" / "icons"
SIDE = 512
OVERSAMPLE = 4
GROUND, PAPER = "#00464f", "#fffefa"
BASE_Y, LEFT, RIGHT, STROKE = 388, 70, 442, 18
OPENS, SURE_FROM, SURE_TO, CLOSES = 176, 236, 322, 382
HATCH_STEP = 42

Points = list[tuple[float, float]]


def top(x: float) -> float:
    """Height of the band's upper edge at x: low and slow at first, then rising, then slower again."""
    share = (x - LEFT) / (RIGHT - LEFT)
    return BASE_Y - 46 - 226 * share * share * (3 - 2 * share)


def band(start: float, end: float) -> Points:
    """The band between two places along the base, as a closed outline."""
    steps = 40
    xs = [start + (end - start) * step / steps for step in range(steps + 1)]
    return [(start, BASE_Y), *((x, top(x)) for x in xs), (end, BASE_Y)]


def hatches() -> list[Points]:
    """Slanted bars over the two soft edges; cut to the band where they are drawn."""
    half, low, high = HATCH_STEP / 2, BASE_Y, BASE_Y - SIDE
    bars = range(LEFT, RIGHT + SIDE, HATCH_STEP)
    return [[(x, low), (x + half, low), (x + half - SIDE, high), (x - SIDE, high)] for x in bars]


def path(points: Points) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + "Z"


def svg() -> str:
    edges = path(band(OPENS, SURE_FROM)) + path(band(SURE_TO, CLOSES))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIDE} {SIDE}">'
        f'<clipPath id="edges"><path d="{edges}"/></clipPath>'
        f'<rect width="{SIDE}" height="{SIDE}" rx="72" fill="{GROUND}"/>'
        f'<path clip-path="url(#edges)" d="{"".join(path(bar) for bar in hatches())}" fill="{PAPER}"/>'
        f'<path d="{path(band(SURE_FROM, SURE_TO))}" fill="{PAPER}"/>'
        f'<path d="{path(band(LEFT, RIGHT))}" fill="none" stroke="{PAPER}"'
        f' stroke-width="{STROKE}" stroke-linejoin="round"/>'
        "</svg>\n"
    )


def scaled(points: Points, size: int, share: float) -> Points:
    """The drawing's points on a canvas of `size`, shrunk to `share` about the middle."""
    factor, middle = size / SIDE, SIDE / 2

    def place(value: float) -> float:
        return (middle + (value - middle) * share) * factor

    return [(place(x), place(y)) for x, y in points]


def shape(size: int, share: float) -> Image.Image:
    """What is drawn in paper white, as a mask."""
    mask = Image.new("L", (size, size), 0)
    edges, bars = mask.copy(), mask.copy()
    for points in (band(OPENS, SURE_FROM), band(SURE_TO, CLOSES)):
        ImageDraw.Draw(edges).polygon(scaled(points, size, share), fill=255)
    for points in hatches():
        ImageDraw.Draw(bars).polygon(scaled(points, size, share), fill=255)
    mask.paste(ImageChops.multiply(edges, bars))
    draw = ImageDraw.Draw(mask)
    draw.polygon(scaled(band(SURE_FROM, SURE_TO), size, share), fill=255)
    outline = scaled(band(LEFT, RIGHT), size, share)
    width = round(STROKE * share * size / SIDE)
    draw.line([*outline, outline[0], outline[1]], fill=255, width=width, joint="curve")
    for x, y in (outline[0], outline[-1], outline[-2], outline[1]):
        draw.ellipse((x - width / 2, y - width / 2, x + width / 2, y + width / 2), fill=255)
    return mask


def png(name: str, size: int, share: float = 1.0, corner: float = 0.14, ground: str | None = GROUND) -> None:
    """One PNG. Without a ground it is a white shape on nothing, as a notification badge wants it."""
    big = size * OVERSAMPLE
    picture = Image.new("RGBA", (big, big), (0, 0, 0, 0))
    if ground:
        ImageDraw.Draw(picture).rounded_rectangle((0, 0, big - 1, big - 1), radius=big * corner, fill=ground)
    picture.paste(Image.new("RGBA", (big, big), PAPER), mask=shape(big, share))
    picture.resize((size, size), Image.Resampling.LANCZOS).save(OUT / name, optimize=True)


def main() -> None:
    OUT.mkdir(parents=True, exist_ok=True)
    (OUT / "icon.svg").write_text(svg(), encoding="utf-8")
    png("icon-192.png", 192)
    png("icon-512.png", 512)
    png("icon-maskable-512.png", 512, share=0.74, corner=0)
    png("icon-180.png", 180, share=0.9, corner=0)
    png("badge-96.png", 96, share=1.2, ground=None)


if __name__ == "__main__":
    main()
