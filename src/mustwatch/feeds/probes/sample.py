"""One value of a probe, or the reason there is none."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Sample:
    """What a probe reported. at: when; celsius and gravity: what it measured, None where it does not; told: the time
    is the device's own, so that the same sample is known again."""

    at: datetime
    celsius: float | None = None
    gravity: float | None = None
    told: bool = False


@dataclass(frozen=True, slots=True)
class Fault:
    """No value. kind: `lost` (nothing can be read), `stuck` or `absurd`; why: in words."""

    at: datetime
    kind: str
    why: str
