"""One look for all pictures: white paper, dark ink, one accent, no ornament."""

from pathlib import Path

import matplotlib.pyplot as plt
from matplotlib.axes import Axes
from matplotlib.figure import Figure

INK, SOFT, ACCENT, COOL, PALE = "#1d2129", "#7b828e", "#b4471f", "#2f6690", "#e9dccf"
plt.rcParams.update(
    {
        "font.size": 9,
        "font.family": "DejaVu Sans",
        "text.color": INK,
        "axes.edgecolor": SOFT,
        "axes.labelcolor": INK,
        "axes.spines.top": False,
        "axes.spines.right": False,
        "axes.titlesize": 9,
        "axes.titlelocation": "left",
        "xtick.color": SOFT,
        "ytick.color": SOFT,
        "xtick.labelcolor": INK,
        "ytick.labelcolor": INK,
        "legend.frameon": False,
        "legend.fontsize": 8,
        "svg.hashsalt": "slabtide",
    }
)


def sheet(rows: int = 1, columns: int = 1, height: float = 3.2) -> tuple[Figure, list[Axes]]:
    """A figure 7.2 inches wide with its axes in reading order."""
    figure, axes = plt.subplots(rows, columns, figsize=(7.2, height), squeeze=False, layout="constrained")
    return figure, list(axes.flat)


def save(figure: Figure, path: Path) -> None:
    """As a small PNG without a date in it, so that the same picture is the same file."""
    figure.savefig(path, dpi=110, metadata={"Software": None}, pil_kwargs={"optimize": True})
    plt.close(figure)
