"""The stage of a batch: derived from its events, never set by hand."""

from datetime import datetime

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.ending import STALL_ABOVE, ending_of
from mustwatch.cellar.kinds import Kinds
from mustwatch.cellar.lives import last_end
from mustwatch.cellar.rest import TWO_WEEKS_DAYS, resting
from mustwatch.ledger.events import Added, Bottled, Closed, Mixed, Pitched, Racked, Read, Seen

FIRST_FALL = 0.003  # SG; less is within the noise of two readings
FERMENTED_SG = 1.020  # no must of honey or fruit starts so low: it has fermented though its start is not known
SIGNS_OF_LIFE = {"foam", "ring", "rafts"}


def stage_of(batch: Batch, kinds: Kinds, stall_above: float = STALL_ABOVE) -> tuple[str, datetime | None]:
    """(stage, since) of a folded batch; kinds: its present life by kind; stall_above: see `_done`."""
    if (end := last_end(kinds)) is not None:
        return "ended", end.at
    if (bottled := kinds.last(Bottled)) is not None and not _emptied(batch, bottled):
        return "bottled", bottled.at
    return vessel_stage_of(batch, kinds, stall_above)


def _emptied(batch: Batch, last: Bottled) -> bool:
    """Whether all of its bottles were poured back into a vessel, or what else was left of them was taken."""
    poured = [event.at for event in batch.poured_back if event.at >= last.at]
    return bool(poured) and not batch.on_shelf


def vessel_stage_of(batch: Batch, kinds: Kinds, stall_above: float = STALL_ABOVE) -> tuple[str, datetime | None]:
    """(stage, since) of what lies in a vessel, whatever was bottled of it."""
    pitched = batch.pitched
    if pitched is None:
        # What was closed, racked, fed or looked at is there, though its mixing was not written down.
        there = kinds.first(Mixed) or next(iter(kinds.among(Added, Closed, Racked, Read, Seen)), None)
        return ("must", there.at) if there else ("planned", None)
    # The drink of another batch was drawn off into this vessel, as by a racking.
    drawn = batch.mixed is not None and pitched.id == batch.mixed.id
    racked_at = pitched.at if drawn else next((event.at for event in batch.rackings if event.at > pitched.at), None)
    if racked_at is not None:
        rest = resting(batch)
        if rest.since is not None and rest.lasts(TWO_WEEKS_DAYS) and _done(batch, rest.readings[-1].sg, stall_above):
            return "ageing", max(rest.since, racked_at)
        return "secondary", racked_at
    alive = _first_sign(batch, pitched)
    return ("primary", alive) if alive else ("lag", pitched.at)


def _done(batch: Batch, sg: float, stall_above: float) -> bool:
    """Whether a gravity at rest is no stand on the way: near enough to the end that no stall is said or held there.

    Where nobody knows the end, or it was told to stand by sulfite and sorbate, rest is all there is to go by.
    """
    stabilised = any(stretch.cut == "stabilised" for stretch in batch.stretches)
    return stabilised or ending_of(batch).above(sg) < stall_above / 2


def _first_sign(batch: Batch, pitched: Pitched) -> datetime | None:
    signs = [event.at for event in batch.seen if event.at >= pitched.at and _shows_life(event)]
    high = batch.start.sg if batch.start else None
    for reading in batch.good_readings:
        fell = reading.sg <= FERMENTED_SG if high is None else high - reading.sg >= FIRST_FALL
        if reading.at >= pitched.at and fell:
            signs.append(reading.at)
            break
        high = reading.sg if high is None else max(high, reading.sg)
    return min(signs, default=None)


def _shows_life(seen: Seen) -> bool:
    return seen.airlock in {"bubbling", "foamed"} or seen.surface in SIGNS_OF_LIFE
