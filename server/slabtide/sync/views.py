from flask import Blueprint

sync = Blueprint("sync", __name__, url_prefix="/api")
