"""Numbers, dates and spans as the screens say them, in the cellar's own scales."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mustwatch.ledger.settings import Settings

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def gravity(settings: Settings, sg: float) -> str:
    """A gravity in the cellar's scale, such as `1.042`, `10.5 Bx` or `10.5 P`."""
    if settings.gravity == "sg":
        return f"{sg:.3f}"
    from mustwatch.trade.gravity import brix_from_sg, plato_from_sg

    try:
        return f"{brix_from_sg(sg):.1f} Bx" if settings.gravity == "brix" else f"{plato_from_sg(sg):.1f} P"
    except ValueError:
        return f"{sg:.3f} SG"


def temperature(settings: Settings, celsius: float) -> str:
    """A temperature in the cellar's scale, such as `21 °C` or `70 °F`."""
    if settings.temperature == "F":
        return f"{celsius * 9 / 5 + 32:.0f} °F"
    shown = f"{celsius:.1f}".removesuffix(".0")
    return f"{shown} °C"


def day(at: datetime, now: datetime) -> str:
    """A day in the offset of `now`: `14 May`, with the year when it is another one."""
    here = at.astimezone(now.tzinfo)
    return f"{here.day} {MONTHS[here.month - 1]}" + ("" if here.year == now.year else f" {here.year}")


def moment(at: datetime, now: datetime) -> str:
    """A day and its time in the offset of `now`: `14 May 09:00`."""
    return f"{day(at, now)} {at.astimezone(now.tzinfo):%H:%M}"


def short_span(length: timedelta) -> str:
    """A length of time in four cells or fewer: `now`, `5m`, `7h`, `3d`, `12w`, `14mo`, `3y`.

    >>> [short_span(timedelta(hours=hours)) for hours in (0, 7, 50, 24 * 30, 24 * 200, 24 * 800)]
    ['now', '7h', '2d', '30d', '28w', '2y']
    """
    minutes = length / timedelta(minutes=1)
    if minutes < 5:
        return "now"
    if minutes < 60:
        return f"{minutes:.0f}m"
    if minutes < 36 * 60:
        return f"{minutes // 60:.0f}h"
    days = int(minutes // 1440)
    if days < 100:
        return f"{days}d"
    return f"{days // 7}w" if days < 730 else f"{days // 365}y"


def span(length: timedelta) -> str:
    """A length of time in words: `an hour`, `7 hours`, `3 days`, `6 weeks`, `4 months`."""
    hours = length / timedelta(hours=1)
    if hours < 1:
        return "less than an hour"
    if hours < 36:
        return _counted(hours, "hour")
    days = hours / 24
    if days < 21:
        return _counted(days, "day")
    return _counted(days / 7, "week") if days < 120 else _counted(days / 30.44, "month")


def _counted(count: float, unit: str) -> str:
    return f"{int(count)} {unit}" + ("" if int(count) == 1 else "s")


def litres(volume_l: float) -> str:
    """A volume: `4.5 L`, `350 ml`."""
    return f"{volume_l * 1000:.0f} ml" if 0 <= volume_l < 1 else f"{volume_l:.2f}".rstrip("0").rstrip(".") + " L"
