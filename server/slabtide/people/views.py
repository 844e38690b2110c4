"""HTTP face of the people room."""

from flask import Blueprint

people = Blueprint("people", __name__, url_prefix="/api")
