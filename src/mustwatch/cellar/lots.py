"""The bottles of a batch by lot: how many were made, what became of them, and how many are left."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.lives import present_life
from mustwatch.cellar.shelf import is_of
from mustwatch.ledger.events import Bottled, Event, Lot, PouredBack, PouredLot, Took

OPENED = ("drunk", "tested")


@dataclass(frozen=True, slots=True)
class LotLeft:
    """One lot on the shelf.

    name: as recorded, else its place among the lots of its batch, from 1; kind: as described, None where nobody did;
    made: bottles filled, None where nobody counted; opened, given, broken, poured: those known to be of this lot;
    unsure: bottles taken that may be of this lot or of another; least_left, most_left: bottles left, None where
    nobody counted.
    """

    batch: str
    name: str
    bottled: Bottled
    kind: Lot | None
    made: int | None
    opened: int = 0
    given: int = 0
    broken: int = 0
    poured: int = 0
    unsure: int = 0
    least_left: int | None = None
    most_left: int | None = None

    @property
    def left(self) -> int | None:
        """Bottles left; None where nobody counted them, or wrote down of which lot bottles were taken."""
        return self.most_left if self.most_left == self.least_left else None

    @property
    def is_empty(self) -> bool:
        """Whether none is left for certain."""
        return self.most_left == 0

    @property
    def remaining(self) -> int | None:
        """Bottles made, less those known to be gone from this very lot."""
        gone = self.opened + self.given + self.broken + self.poured
        return None if self.made is None else max(0, self.made - gone)


def lots_of(batch: Batch) -> tuple[LotLeft, ...]:
    """The lots of a batch in the order they were filled; nothing is left of an ended batch.

    A bottle whose lot nobody wrote down counts for a lot only where it can be of no other.
    """
    lots, unsure = _filled(batch), 0
    for event in present_life(batch.story):
        if isinstance(event, Took) and lots:
            lots, of_no_lot = _taken(lots, event)
            unsure += of_no_lot
        elif isinstance(event, PouredBack):
            lots = [_poured(lot, event) for lot in lots]
    if batch.stage == "ended":
        return tuple(replace(lot, least_left=0, most_left=0) for lot in lots)
    return tuple(_bounded(lots, unsure))


def _filled(batch: Batch) -> list[LotLeft]:
    lots: list[LotLeft] = []
    for event in batch.bottlings:
        for kind in event.lots or (None,):
            name = _name_in(kind) or str(len(lots) + 1)
            lots.append(LotLeft(batch.tag, name, event, kind, None if kind is None else kind.count))
    return lots


def _name_in(part: Lot | Event | None) -> str:
    name = getattr(part, "lot", None)
    return "" if name is None else str(name).strip()


def _taken(lots: Sequence[LotLeft], event: Took) -> tuple[list[LotLeft], int]:
    """The lots after some bottles went, and how many of these are of a lot that nobody can name."""
    named = [lot for lot in lots if lot.name.casefold() == _name_in(event).casefold()]
    may_be = named or [lot for lot in lots if lot.bottled.at <= event.at and lot.remaining != 0] or list(lots)
    if len(may_be) == 1:
        part = "opened" if event.why in OPENED else event.why
        one = replace(may_be[0], **{part: getattr(may_be[0], part) + event.count})
        return [one if lot is may_be[0] else lot for lot in lots], 0
    return [replace(lot, unsure=lot.unsure + event.count) if lot in may_be else lot for lot in lots], event.count


def _poured(lot: LotLeft, event: PouredBack) -> LotLeft:
    """The lot after bottles were poured back: of its name or size, or all of them."""
    if lot.kind is None or lot.remaining is None or lot.bottled.at > event.at:
        return lot
    parts = [part for part in event.lots or (PouredLot(),) if is_of(part, lot.kind, lot.name)]
    counts = [lot.remaining if part.count is None else part.count for part in parts]
    return replace(lot, poured=lot.poured + min(lot.remaining, sum(counts)))


def _bounded(lots: Sequence[LotLeft], unsure: int) -> list[LotLeft]:
    """The lots with the least and the most that can be left of each, so that all come to what is left in all."""
    counted = [(max(0, lot.remaining - lot.unsure), lot.remaining) for lot in lots if lot.remaining is not None]
    if len(counted) < len(lots):
        ends = [(None, None) if lot.remaining is None else (max(0, lot.remaining - lot.unsure), lot.remaining)
                for lot in lots]  # fmt: skip
        return [replace(lot, least_left=low, most_left=high) for lot, (low, high) in zip(lots, ends, strict=True)]
    in_all = max(0, sum(high for _, high in counted) - unsure)
    least, most = sum(low for low, _ in counted), sum(high for _, high in counted)
    return [
        replace(lot, least_left=max(low, in_all - (most - high)), most_left=min(high, in_all - (least - low)))
        for lot, (low, high) in zip(lots, counted, strict=True)
    ]
