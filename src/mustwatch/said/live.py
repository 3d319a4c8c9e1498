"""What probes show at this moment, in words: the value while it is fresh, else how long the probe is silent."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.settings import Settings
from mustwatch.said.dates import age
from mustwatch.said.figures import degrees, gravity

FRESH = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class Live:
    """The newest value of a probe. batch or place: what it watches; state: well, lost, stuck or absurd;
    since: since when it shows the very same value."""

    probe: str
    at: datetime | None
    celsius: float | None = None
    gravity: float | None = None
    batch: str | None = None
    place: str | None = None
    state: str = "well"
    since: datetime | None = None


def live_words(values: Iterable[Live], batch: Batch, settings: Settings, now: datetime) -> str:
    """What the probes of a batch and of its room show now; empty where there is none."""
    mine = [one for one in values if one.batch == batch.tag or (one.place is not None and one.place == batch.place)]
    return ", ".join(_one(value, settings, now) for value in mine)


def _one(value: Live, settings: Settings, now: datetime) -> str:
    if value.at is None:
        return f"probe {value.probe} not heard yet"
    silent = f"silent for {age(value.at, now)}" if now - value.at > FRESH else ""
    if silent or value.state != "well":
        state = value.state if value.state != "well" else ""
        return f"probe {value.probe} {' and '.join(part for part in (state, silent) if part)}"
    whose = "must" if value.batch else "air"
    parts = [f"{whose} {degrees(value.celsius, settings)}"] if value.celsius is not None else []
    parts += [gravity(value.gravity, settings)] if value.gravity is not None else []
    return f"{' and '.join(parts)} now"
