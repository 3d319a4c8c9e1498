"""A broker's message as a sample: which value inside it, in which scale, under which calibration. Pure."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from math import isfinite
from typing import Any

from mustwatch.feeds.probes.config import Probe
from mustwatch.feeds.probes.sample import Fault, Sample
from mustwatch.trade.gravity import sg_from_brix, sg_from_plato
from mustwatch.trade.temperature import celsius_from_fahrenheit

LARGEST_MESSAGE = 64 * 1024
STEP = re.compile(r"([^.\[\]]+)|\[(\d{1,4})\]")
AHEAD = timedelta(minutes=5)
HIGHEST_STAMP = 4102444800.0  # the year 2100, in seconds since 1970; above it a number counts milliseconds


def sample_of(probe: Probe, payload: bytes, now: datetime) -> Sample | Fault:
    """What a message says, at its own time where it tells one that is not to come."""
    try:
        told = _document(payload)
        at = _time(_at(told, probe.where["time"])) if "time" in probe.where else None
        own = at is not None and at <= now + AHEAD
        celsius = _celsius(probe, told) if "temperature" in probe.where else None
        gravity = _gravity(probe, told) if probe.floats else None
    except ValueError as why:
        return Fault(now, "lost", f"sends what is not understood ({why})")
    return Sample(at if own and at else now, celsius, gravity, told=own)


def _document(payload: bytes) -> Any:
    if len(payload) > LARGEST_MESSAGE:
        raise ValueError("longer than 64 KiB")
    try:
        return json.loads(payload)
    except (ValueError, RecursionError):
        raise ValueError("no JSON and no number") from None


def _at(told: Any, path: str) -> Any:
    """The value at a path such as `data.temps[0]`; `$` is the whole message. Raises ValueError."""
    if path == "$":
        return told
    for name, place in STEP.findall(path.removeprefix("$.")):
        try:
            told = told[int(place)] if place else told[name]
        except (KeyError, IndexError, TypeError):
            raise ValueError(f"nothing at {path}") from None
    return told


def _number(value: Any, path: str) -> float:
    if isinstance(value, str):
        try:
            value = float(value)
        except ValueError:
            raise ValueError(f"no number at {path}") from None
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        raise ValueError(f"no number at {path}")
    return float(value)


def _celsius(probe: Probe, told: Any) -> float:
    value = _number(_at(told, probe.where["temperature"]), probe.where["temperature"])
    return (celsius_from_fahrenheit(value) if probe.fahrenheit else value) + probe.offset_c


def _gravity(probe: Probe, told: Any) -> float:
    """Specific gravity: set right by the calibration first, then out of its scale."""
    value = calibrated(_number(_at(told, probe.where["gravity"]), probe.where["gravity"]), probe.calibration)
    if probe.scale == "sg":
        return value / 1000 if 900 <= value <= 1250 else value
    return (sg_from_brix if probe.scale == "brix" else sg_from_plato)(value)


def calibrated(value: float, pairs: Sequence[tuple[float, float]]) -> float:
    """A value as it should be, straight between the pairs and straight on beyond them.

    >>> calibrated(45.0, [(25.0, 1.000), (65.0, 1.080)])
    1.04
    """
    if len(pairs) < 2:
        return value
    place = next((n for n in range(1, len(pairs) - 1) if value < pairs[n][0]), len(pairs) - 1)
    (left, low), (right, high) = pairs[place - 1], pairs[place]
    return low + (value - left) * (high - low) / (right - left)


def _time(value: Any) -> datetime | None:
    """RFC 3339 with its offset, or seconds or milliseconds since 1970. Raises ValueError."""
    if isinstance(value, str):
        try:
            found = datetime.fromisoformat(value)
        except ValueError:
            raise ValueError(f"{value[:40]!r} is no time") from None
        return found if found.tzinfo else None
    stamp = _number(value, "time")
    try:
        return datetime.fromtimestamp(stamp / 1000 if stamp > HIGHEST_STAMP else stamp, UTC)
    except (ValueError, OverflowError, OSError):
        raise ValueError("a time that there is not") from None
