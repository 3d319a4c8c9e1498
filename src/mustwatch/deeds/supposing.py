"""What if: words such as `warmed to 20C` or `sweetened 10 points`, as the event they would be. Saves nothing. Pure."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.course import SUGAR_SHARE, grams_for
from mustwatch.deeds.foresight import DRAFT, cellar_after
from mustwatch.deeds.ground import Ground
from mustwatch.deeds.readers import closure as closure_read
from mustwatch.deeds.readers import degrees
from mustwatch.entry.quantity import named_amount
from mustwatch.entry.substance import substance
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from mustwatch.ledger.visible import visible

Keys = dict[str, Any]
MOST_POINTS = 150.0  # more sugar than that is no addition but another must
LIKE = "warmed to 20C, fed 1g DAP, sealed now, sweetened 10 points"


def supposed(words: str, ground: Ground, at: datetime) -> Event:
    """The event that the words stand for, as if at `at`. Raises ValueError with one line that says what would do."""
    first, _, rest = " ".join(words.split()).partition(" ")
    reader = READERS.get(first.lower())
    if reader is None:
        raise ValueError(f"{visible(words, limit=40)!r} cannot be supposed; write it like {LIKE}")
    kind, keys = reader(rest, ground)
    return stamped(draft(kind, at, ground.tag, **keys), f"{DRAFT}1", None)


def batch_if(event: Event, ground: Ground, now: datetime) -> Batch:
    """The batch as it would be after the event, at `now`."""
    return cellar_after(ground, [event], now).batches[str(event.batch)]


def _warmed(rest: str, ground: Ground) -> tuple[str, Keys]:
    celsius = degrees(rest.removeprefix("to "), ground)
    place = ground.batch.place if ground.batch else None
    return "moved", {"place": place or "", "air_c": celsius}


def _fed(rest: str, ground: Ground, usual: str = "nutrient") -> tuple[str, Keys]:
    named = named_amount(rest, usual, ground.settings.gallon)
    amount = {"g": round(named["kg"] * 1000, 4)} if "kg" in named else {"l": named["l"]}
    return "added", substance(named["what"]) | amount


def _sweetened(rest: str, ground: Ground) -> tuple[str, Keys]:
    number, _, unit = rest.partition(" ")
    if unit.lower() not in ("point", "points"):
        kind, keys = _fed(rest, ground, "honey")
        if keys["category"] not in SUGAR_SHARE:
            raise ValueError(f"{visible(keys['what'], limit=40)} does not sweeten; write fed instead")
        return kind, keys
    try:
        points = float(number)
    except ValueError:
        points = 0.0
    if not 0 < points <= MOST_POINTS:
        raise ValueError(f"{visible(number, limit=20)!r} points: write a number above 0, at most {MOST_POINTS:.0f}")
    volume_l = ground.batch.volume_l if ground.batch else None
    if not volume_l:
        raise ValueError("its volume is not recorded: write the mass, such as sweetened 100g honey")
    return "added", {"what": "honey", "category": "honey", "g": round(grams_for(points, volume_l, "honey"), 1)}


def _sealed(rest: str, ground: Ground) -> tuple[str, Keys]:
    told = rest.removeprefix("now").strip().removeprefix("with ")
    return "closed", {"closure": closure_read(told, ground) if told else "solid-bung"}


READERS: dict[str, Callable[[str, Ground], tuple[str, Keys]]] = {
    "warmed": _warmed,
    "cooled": _warmed,
    "fed": _fed,
    "added": _fed,
    "sweetened": _sweetened,
    "sealed": _sealed,
    "closed": _sealed,
}
