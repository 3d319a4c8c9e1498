"""Numbers and dates as findings say them, in the cellar's own scales."""

from __future__ import annotations

from datetime import datetime, timedelta

from mustwatch.rules.view import View
from mustwatch.said import figures as scales
from mustwatch.said.outlook_words import date_words


def gravity(view: View, sg: float) -> str:
    """A gravity in the cellar's scale: `1.042`, `10.5 Bx` or `10.5 P`."""
    return scales.gravity(sg, view.settings)


def temperature(view: View, celsius: float) -> str:
    """A temperature in the cellar's scale: `21 °C` or `70 °F`."""
    if view.settings.temperature == "F":
        return f"{celsius * 9 / 5 + 32:.0f} °F"
    return f"{celsius:.0f} °C"


def warmth(view: View, kelvin: float) -> str:
    """A difference of temperatures in the cellar's scale: `5 °C` or `9 °F`."""
    return f"{kelvin * 9 / 5:.0f} °F" if view.settings.temperature == "F" else f"{kelvin:.0f} °C"


def yeast(view: View) -> str:
    """The yeast of the batch: `this yeast (label)`, or by its class where it has no name of its own."""
    pitched = view.batch.pitches[-1].yeast if view.batch.pitches else None
    if pitched is None or (pitched.label == "yeast" and pitched.yeast_class == "unknown"):
        return "this yeast"
    name = pitched.label if pitched.label != "yeast" else f"{pitched.yeast_class.replace('-', ' ')} yeast"
    return f"this yeast ({name})"


def began(view: View) -> str:
    """How a date of its beginning is led in: `pitched on`, or what is known where that was not recorded."""
    return "at work at the latest on" if view.batch.pitching_assumed else "pitched on"


def beginning(view: View) -> str:
    """From when its days are counted: `it was pitched`, or the first sign of life where that was not recorded."""
    return "the first sign of life" if view.batch.pitching_assumed else "it was pitched"


def times(count: int) -> str:
    """`once`, `twice`, `3 times`."""
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def points(count: float) -> str:
    """Gravity points: `1 point`, `4 points`."""
    shown = f"{count:.0f}"
    return f"{shown} point" if shown == "1" else f"{shown} points"


def date(view: View, at: datetime) -> str:
    """A day: `14 May`, with the year when it is not this one."""
    return date_words(at, view.now)


def days(view: View, at: datetime) -> float:
    """Days from a time to now."""
    return (view.now - at) / timedelta(days=1)


def span(length: timedelta | float) -> str:
    """A length of time (or a number of days) in whole units: `20 hours`, `3 days`, `6 weeks`, `4 months`."""
    count = length / timedelta(days=1) if isinstance(length, timedelta) else length
    if count < 2:
        return _counted(count * 24, "hour")
    if count < 21:
        return _counted(count, "day")
    return _counted(count / 7, "week") if count < 120 else _counted(count / 30.44, "month")


def _counted(count: float, unit: str) -> str:
    whole = max(0, int(count + 1e-6))
    return f"{whole} {unit}" + ("" if whole == 1 else "s")
