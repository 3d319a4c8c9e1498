"""A pitching that nobody wrote down: what is at work all the same, and what tells so.

Diaries begin in the middle, yeast is added under another name, wild yeast
asks nobody. A must taken for quiet because a line is missing would be sealed
without a word, so what shows life is taken to live.
"""

from collections.abc import Iterator, Sequence
from datetime import timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.kinds import Kinds
from mustwatch.cellar.stage import FERMENTED_SG
from mustwatch.ledger.events import Added, Event, Mixed, Pitched, Racked, Read, Seen, Yeast

LEAST_FALL = 0.005  # SG; two careful readings differ by less than 0.003, a must not stirred through by a little more
LONGEST_WAIT = timedelta(hours=96)  # a must without yeast that has waited so long has a growth of its own
SIGNS = {"bubbling", "foamed", "ring", "rafts"}


class Unrecorded(NamedTuple):
    """The pitching as it is taken to have been, at the latest, and why in words."""

    pitched: Pitched
    why: str


def unrecorded_pitching(kinds: Kinds, good: Sequence[Reading]) -> Unrecorded | None:
    """What a story without a pitching shows of life, the earliest sign; None while it may be waiting for its yeast.

    good: its readings that judgements may use, oldest first.
    """
    return min(_signs(kinds, good), key=lambda sign: sign.pitched.at, default=None)


def _signs(kinds: Kinds, good: Sequence[Reading]) -> Iterator[Unrecorded]:
    yeast = next((event for event in kinds.all(Added) if event.category == "yeast"), None)
    if yeast is not None:
        yield _taken(yeast, "yeast was added", yeast=Yeast(label=yeast.what))
    reads = {event.id: event for event in kinds.all(Read)}
    if good and kinds.first(Mixed) is None:
        yield _taken(reads[good[0].id], "its record begins with a reading")
    if (racked := _racked_since_mixed(kinds)) is not None:
        yield _taken(racked, "it was racked")
    seen = next((event for event in kinds.all(Seen) if {event.airlock, event.surface} & SIGNS), None)
    if seen is not None:
        sign = seen.airlock if seen.airlock in SIGNS else seen.surface
        yield _taken(seen, f"{sign} was seen")
    if (fell := _fall(kinds, good)) is not None:
        before, after = fell
        why = f"it fell from {before.sg:.3f} to {after.sg:.3f}" if before is not after else f"it read {after.sg:.3f}"
        yield _taken(reads[before.id], why)


def _racked_since_mixed(kinds: Kinds) -> Racked | None:
    """A racking that begins the record, or came so long after the mixing that a must would have begun to work."""
    mixed = kinds.first(Mixed)
    return next((e for e in kinds.all(Racked) if mixed is None or e.at - mixed.at >= LONGEST_WAIT), None)


def _taken(event: Event, why: str, yeast: Yeast | None = None) -> Unrecorded:
    # It bears the id of what tells so: findings then rest on a line that is in the ledger.
    return Unrecorded(Pitched(id=event.id, at=event.at, batch=event.batch, yeast=yeast or Yeast()), why)


def _fall(kinds: Kinds, good: Sequence[Reading]) -> tuple[Reading, Reading] | None:
    """(the reading before it, the reading that fell), since the must was last thinned."""
    thinned = [event.at for event in kinds.all(Added) if event.category in {"water", "juice"}]
    high: Reading | None = None
    for reading in good:
        if high is not None and any(high.at <= at <= reading.at for at in thinned):
            high = None
        if reading.sg <= FERMENTED_SG:
            return high or reading, reading
        if high is not None and high.sg - reading.sg >= LEAST_FALL:
            return high, reading
        high = reading if high is None or reading.sg >= high.sg else high
    return None
