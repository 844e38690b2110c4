"""How the engine's plain English says numbers: both unit systems, short."""

from datetime import datetime, tzinfo

from slabtide.engine.timeline import WindowName

WORK: dict[WindowName, str] = {
    "edge": "edging",
    "mag": "magging",
    "texture": "texturing",
    "saw": "sawing",
    "wash": "washing",
    "colour": "the second colour",
    "seal": "sealing",
}


def degrees(temp_c: float) -> str:
    """A temperature.

    >>> degrees(30.0)
    '86 °F (30 °C)'
    """
    return f"{temp_c * 1.8 + 32.0:.0f} °F ({temp_c:.0f} °C)"


def degrees_span(low_c: float, high_c: float) -> str:
    """A span of temperatures.

    >>> degrees_span(20.0, 25.0)
    '68 to 77 °F (20 to 25 °C)'
    """
    return f"{low_c * 1.8 + 32.0:.0f} to {high_c * 1.8 + 32.0:.0f} °F ({low_c:.0f} to {high_c:.0f} °C)"


def drop(kelvin: float) -> str:
    """A difference of temperature.

    >>> drop(10.0)
    '18 °F (10 °C)'
    """
    return f"{kelvin * 1.8:.0f} °F ({kelvin:.0f} °C)"


def water_loss(kg_m2_h: float) -> str:
    """A rate of evaporation.

    >>> water_loss(1.0)
    '0.20 lb/ft²/h (1.0 kg/m²/h)'
    """
    return f"{kg_m2_h / 4.882428:.2f} lb/ft²/h ({kg_m2_h:.1f} kg/m²/h)"


def rain(mm: float) -> str:
    """An amount of rain.

    >>> rain(2.54)
    '0.10 in (2.5 mm)'
    """
    return f"{mm / 25.4:.2f} in ({mm:.1f} mm)"


def chances(share: float) -> str:
    """A chance in ten, never none.

    >>> chances(0.34)
    '3 in 10'
    """
    return f"{max(1, round(share * 10))} in 10"


def clock_words(at: datetime, zone: tzinfo) -> str:
    """A time of day as people say it.

    >>> from datetime import UTC
    >>> clock_words(datetime(2026, 7, 14, 20, 5, tzinfo=UTC), UTC)
    '8:05 pm'
    """
    local = at.astimezone(zone)
    return hour_words(local.hour + local.minute / 60.0)


def hour_words(hour: float) -> str:
    """An hour of the day, 0 to 24.

    >>> hour_words(20.5)
    '8:30 pm'
    """
    minutes = round(hour * 60.0) % 1440
    return f"{minutes // 60 % 12 or 12}:{minutes % 60:02d} {'am' if minutes < 720 else 'pm'}"
