"""Office: the outlook each phone caches, the board of every job, the close-out record, exports and import."""

from flask import Flask


def init_app(app: Flask) -> None:
    """Register the outlook, board, record, export, import and looking-back routes."""
    from slabtide.office.decide.views import decide
    from slabtide.office.exports.views import exports
    from slabtide.office.learned.views import learned
    from slabtide.office.record.views import record
    from slabtide.office.views import office

    app.register_blueprint(office)
    app.register_blueprint(decide)
    app.register_blueprint(record)
    app.register_blueprint(exports)
    app.register_blueprint(learned)
