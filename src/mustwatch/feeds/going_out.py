"""Readings, events and the shelf as rows with stable columns, for sheets and for JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from mustwatch.cellar.fold import Cellar
from mustwatch.ledger.codec import encode
from mustwatch.ledger.events import Event, Read
from mustwatch.said.telling import told

if TYPE_CHECKING:
    from mustwatch.ledger.settings import Settings
    from mustwatch.rules.shelf import Shelved

READINGS = (
    "batch", "at", "gravity", "scale", "sample_c", "must_c", "air_c", "ph", "ta_g_l", "free_so2_mg_l", "note",
    "instrument",
)  # fmt: skip
EVENTS = ("id", "at", "batch", "kind", "what", "note", "json")
SHELF = (
    "batch", "lot", "bottled_on", "size_ml", "bottle", "closure", "made", "opened", "given", "broken", "poured", "left",
    "left_least", "left_most", "hold", "hold_why", "drink_from", "drink_by", "score",
)  # fmt: skip
COMMON = {"v", "seq", "id", "at", "batch", "kind", "note", "crc"}
MEASURED = ("gravity", "must_c", "air_c", "ph", "ta_g_l", "free_so2_mg_l")


def readings(cellar: Cellar) -> Iterator[dict[str, Any]]:
    """A row for each reading that somebody took, as it was read, batch by batch; `import` reads the columns again.

    With `id`, and with `sg` and `doubt` where it holds a gravity: corrected, and why judgements leave it out.
    """
    for batch in cellar.batches.values():
        corrected = {reading.id: reading for reading in batch.readings}
        for event in batch.story:
            if isinstance(event, Read) and not event.by_itself:
                seen, known = event.gravity, corrected.get(event.id)
                yield {
                    "batch": batch.tag,
                    "at": event.at,
                    "gravity": seen.value if seen else None,
                    "scale": seen.scale if seen else None,
                    "sample_c": seen.sample_c if seen else None,
                    **{name: getattr(event, name) for name in MEASURED[1:]},
                    "note": event.note,
                    "instrument": seen.instrument if seen else None,
                    "id": event.id,
                    "sg": round(known.sg, 5) if known else None,
                    "doubt": known.doubt if known else None,
                }


def left_out(cellar: Cellar) -> int:
    """How many readings were written by probes, which `readings` leaves out."""
    stories = (event for batch in cellar.batches.values() for event in batch.story)
    return sum(isinstance(event, Read) and event.by_itself for event in stories)


def events(found: Iterable[Event], settings: Settings) -> Iterator[dict[str, Any]]:
    """A row for each event as it stands: what it tells in words, and its own keys as JSON."""
    for event in found:
        keys = json.loads(encode(event))
        own = {key: value for key, value in keys.items() if key not in COMMON}
        yield {
            "id": event.id,
            "at": event.at,
            "batch": event.batch,
            "kind": event.kind,
            "what": told(event, settings),
            "note": event.note,
            "json": json.dumps(own),
        }


def shelf_rows(lots: Sequence[Shelved]) -> list[dict[str, Any]]:
    """A row for each lot; what nobody recorded is empty, and `left` too where its lot was not written down."""
    return [_lot(one) for one in lots]


def _lot(one: Shelved) -> dict[str, Any]:
    lot, kind = one.lot, one.lot.kind
    return {
        "batch": lot.batch,
        "lot": lot.name,
        "bottled_on": lot.bottled.at,
        "size_ml": kind.size_ml if kind else None,
        "bottle": kind.bottle if kind else None,
        "closure": kind.closure if kind else None,
        "made": lot.made,
        "opened": lot.opened,
        "given": lot.given,
        "broken": lot.broken,
        "poured": lot.poured,
        "left": lot.left,
        "left_least": lot.least_left,
        "left_most": lot.most_left,
        "hold": one.hold is not None,
        "hold_why": f"{one.hold.says} ({one.hold.rule})" if one.hold else None,
        "drink_from": one.window.start,
        "drink_by": one.window.end,
        "score": one.score,
    }
