"""Weather: hourly series from files, hand entry and on-site readings, behind one protocol."""

from flask import Flask


def init_app(app: Flask) -> None:
    """Join the application. Weather has no routes of its own: the outlook carries what it knows."""
    app.extensions.setdefault("slabtide_weather", True)
