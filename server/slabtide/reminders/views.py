"""HTTP face of the reminders room: the push key and a device's subscription."""

from flask import Blueprint

push = Blueprint("push", __name__, url_prefix="/api/push")
