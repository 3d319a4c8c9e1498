"""Batches for tests from a few numbers: days after pitching and gravities."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any
from zlib import crc32

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import fold
from mustwatch.ledger.events import Added, Bottled, Closed, Event, Mixed, Pitched, Racked, Read
from mustwatch.ledger.settings import Settings

PITCHED = datetime(2026, 3, 2, 12, tzinfo=UTC)  # a Monday
SETTINGS = Settings()


def day(days: float) -> datetime:
    """So many days after pitching."""
    return PITCHED + timedelta(days=days)


def fermenting(
    readings: Sequence[tuple[float, float]],
    *,
    until: float | None = None,
    yeast_class: str = "white-wine",
    tolerance: float | None = 14.0,
    must_c: float | None = 20.0,
    honey: bool = True,
    extra: Sequence[Event] = (),
    pitched: bool = True,
) -> Batch:
    """A batch pitched on day 0 and read as told, (days, SG); extra events are built with `event`."""
    events: list[Event] = [
        event(Mixed, 0, volume_l=4.0, vessel={"kind": "jug", "capacity_l": 4.5},
              ingredients=[{"what": "honey", "category": "honey"}] if honey else []),
    ]  # fmt: skip
    if pitched:
        yeast = {"label": "yeast", "class": yeast_class, "tolerance_abv": tolerance}
        events.append(event(Pitched, 0, yeast=yeast))
    events += [event(Read, at, gravity={"value": sg, "sample_c": 20.0}, must_c=must_c) for at, sg in readings]
    events += extra
    last = max((at for at, _ in readings), default=0.0)
    now = day(max(last, until if until is not None else 0.0))
    return fold(events, SETTINGS, now).batches["made"]


def event(kind: type[Event], days: float, **keys: Any) -> Any:
    """An event of the batch, so many days after pitching."""
    name = kind.model_fields["kind"].default
    mark = crc32(repr(sorted(keys.items())).encode())
    return kind(id=f"{name}-{days:g}-{mark:08x}", at=day(days), batch="made", kind=name, **keys)


def honey(days: float, g: float | None = 500.0) -> Event:
    return event(Added, days, what="honey", category="honey", g=g)


def sorbate(days: float) -> Event:
    return event(Added, days, what="potassium sorbate", category="sorbate", g=1.0)


def closed(days: float, closure: str = "solid-bung") -> Event:
    return event(Closed, days, closure=closure)


def racked(days: float, **keys: Any) -> Event:
    return event(Racked, days, **keys)


def bottled(days: float, **keys: Any) -> Event:
    return event(Bottled, days, **keys)
