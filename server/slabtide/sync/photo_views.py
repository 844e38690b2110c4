from flask import Blueprint

photos = Blueprint("photos", __name__, url_prefix="/api")
