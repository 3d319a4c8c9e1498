"""A cellar of many batches over years, as people keep one: most are long drunk, a few are at work."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from mustwatch.ledger.clock import next_id
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from mustwatch.ledger.stamp import line_of
from mustwatch.ledger.store import Ledger

FALL = 0.86  # what is left of the sugar after a day
UNDER_WAY = 12


def made(folder: Path, batches: int, *, years: float = 1.0, events: int = 30, under_way: int = UNDER_WAY) -> Path:
    """A cellar of so many batches with so many events each, begun evenly over the years before today."""
    Ledger.make(folder, "")
    now = datetime.now(UTC).replace(microsecond=0)
    story = [
        event
        for number in range(batches)
        for event in _story(number, now, timedelta(days=365 * years * (number + 1) / batches), events,
                            ended=number >= under_way)
    ]  # fmt: skip
    last, lines = None, []
    for number, event in enumerate(sorted(story, key=lambda event: event.at), 1):
        last = next_id(last, event.at)
        lines.append(line_of(stamped(event, last, number)))
    (folder / "events" / "00112233445566aa.jsonl").write_bytes(b"".join(lines))
    return folder


def _story(number: int, now: datetime, ago: timedelta, events: int, *, ended: bool) -> Iterator[Event]:
    tag, began = f"mead-{number}", now - ago
    yield draft("mixed", began, tag, name=f"Mead {number}", volume_l=4.5, vessel={"kind": "jug", "capacity_l": 5})
    yield draft("read", began, tag, gravity={"value": 1.095, "sample_c": 20})
    yield draft("pitched", began, tag, yeast={"label": "house", "class": "white-wine"})
    yield draft("closed", began, tag, closure="airlock")
    step = min(timedelta(days=1), ago / (events + 2))
    for day in range(1, events - (7 if ended else 4) + 1):
        at = began + day * step
        if day % 3:
            sg = round(0.998 + 0.097 * FALL ** (step * day / timedelta(days=1)), 3)
            yield draft("read", at, tag, gravity={"value": sg, "sample_c": 20}, must_c=19.5)
        else:
            yield draft("seen", at, tag, airlock="bubbling" if day < 20 else "still")
    if ended:
        done = began + events * step
        yield draft("racked", done, tag, volume_l=4.3)
        yield draft("bottled", done, tag, lots=[{"size_ml": 750, "count": 5, "bottle": "still-wine"}], style="still")
        yield draft("ended", done, tag, outcome="drunk")
