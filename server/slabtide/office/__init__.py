"""Office: the outlook each phone caches and the board of every job."""

from flask import Flask


def init_app(app: Flask) -> None:
    """Register the outlook and board routes."""
    from slabtide.office.views import office

    app.register_blueprint(office)
