"""Sync: the one endpoint phones talk to, and the photos they send."""

from flask import Flask


def init_app(app: Flask) -> None:
    """Register the sync and photo routes."""
    from slabtide.sync.photo_views import photos
    from slabtide.sync.views import sync

    app.register_blueprint(sync)
    app.register_blueprint(photos)
