"""The concrete's own clock: pure computation, SI units, standard library only, no clock, no I/O."""

from slabtide.engine.pour import Pour
from slabtide.engine.prediction import forecast
from slabtide.engine.timeline import Timeline

__all__ = ["Pour", "Timeline", "forecast"]
