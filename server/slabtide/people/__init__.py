"""People: companies, persons and roles, one-time invites, devices and the tokens they carry."""

from flask import Flask

from slabtide.people.access import Caller, caller, require

__all__ = ["Caller", "caller", "init_app", "require"]


def init_app(app: Flask) -> None:
    """Register the routes for joining, inviting and devices."""
    from slabtide.people.views import people

    app.register_blueprint(people)
