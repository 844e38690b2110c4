"""HTTP face of the office room: the outlook and the board."""

from flask import Blueprint

office = Blueprint("office", __name__, url_prefix="/api")
