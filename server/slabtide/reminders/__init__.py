"""Reminders: derive, store, claim, deliver by Web Push, acknowledge."""

from flask import Flask


def init_app(app: Flask) -> None:
    """Register the push routes."""
    from slabtide.reminders.views import push

    app.register_blueprint(push)
