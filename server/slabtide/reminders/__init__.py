"""Reminders: derive, store, claim, deliver by Web Push, acknowledge, put off; and each person's calendar."""

from flask import Flask


def init_app(app: Flask) -> None:
    """Register the push and calendar routes."""
    from slabtide.reminders.calendar_feeds import Strangers
    from slabtide.reminders.calendar_views import STRANGERS, calendar
    from slabtide.reminders.life_views import life
    from slabtide.reminders.views import push

    app.extensions[STRANGERS] = Strangers()
    app.register_blueprint(push)
    app.register_blueprint(calendar)
    app.register_blueprint(life)
