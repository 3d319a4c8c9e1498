"""The bottles of a batch: what was filled, what was poured back into a vessel, and how many are left."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from mustwatch.ledger.events import Bottled, Closed, Event, Lot, PouredBack, PouredLot, Racked, Took

Filling = Sequence[tuple[Bottled, tuple[Lot, ...]]]


def bottles_of(bottled: Sequence[Bottled], took: Sequence[Took], poured: Sequence[PouredBack] = ()) -> dict[str, Any]:
    """The fields of a batch that count its bottles: made, left, and the bottlings of which some are there."""
    made = sum(lot.count for event in bottled for lot in event.lots)
    left = made - sum(event.count for event in took)
    for number, event in enumerate(poured):
        left = min(left, _left_after(event, bottled, took, poured[:number]))
    return {"bottles_made": made, "bottles_left": left, "on_shelf": _on_shelf(bottled, poured, left)}


def _left_after(
    event: PouredBack, bottled: Sequence[Bottled], took: Sequence[Took], earlier: Sequence[PouredBack]
) -> int:
    """Bottles left now, by what one pouring back tells: what came later, and of what was there then what stayed."""
    before = [one for one in bottled if one.at <= event.at]
    later = sum(lot.count for one in bottled if one.at > event.at for lot in one.lots)
    gone_later = sum(one.count for one in took if one.at > event.at)
    there = sum(lot.count for _, lots in _filled(before, earlier) for lot in lots)
    there -= sum(one.count for one in took if one.at <= event.at)
    stayed = sum(lot.count for _, lots in _filled(before, (*earlier, event)) for lot in lots)
    poured = sum(lot.count or 0 for lot in event.lots)
    counted = bool(event.lots) and all(lot.count is not None for lot in event.lots)
    return max(0, there - poured if counted else min(there, stayed)) + later - gone_later


def _on_shelf(bottled: Sequence[Bottled], poured: Sequence[PouredBack], left: int) -> tuple[Bottled, ...]:
    """The bottlings as they stand: with what was not poured back, and their share of the priming.

    Nobody writes down of which lot a bottle was taken, so a lot counts as there while any bottle is.
    """
    counted = all(event.lots for event in bottled) and any(lot.count for event in bottled for lot in event.lots)
    if counted and left <= 0:
        return ()
    if not poured:
        return tuple(bottled)
    return tuple(_what_is_left(event, lots) for event, lots in _filled(bottled, poured) if _any(event, lots, poured))


def _any(event: Bottled, lots: Sequence[Lot], poured: Sequence[PouredBack]) -> bool:
    if event.lots:
        return any(lot.count for lot in lots)
    return not any(one.at >= event.at and not one.lots for one in poured)


def _what_is_left(event: Bottled, lots: tuple[Lot, ...]) -> Bottled:
    left = tuple(lot for lot in lots if lot.count)
    if left == event.lots:
        return event
    share = litres_of(left) / (litres_of(event.lots) or 1.0)
    priming = event.priming and event.priming.model_copy(update={"g": event.priming.g * share})
    return event.model_copy(update={"lots": left, "priming": priming})


def _filled(bottled: Sequence[Bottled], poured: Sequence[PouredBack]) -> Filling:
    """Each bottling with its lots, less what was poured back of them since."""
    found = [(event, list(event.lots)) for event in bottled]
    for pouring in poured:
        since = [lots for event, lots in found if event.at <= pouring.at]
        for part in pouring.lots or (PouredLot(),):
            _take_out(part, since)
    return [(event, tuple(lots)) for event, lots in found]


def _take_out(part: PouredLot, filled: Sequence[list[Lot]]) -> None:
    """Takes one poured lot out of the lots it may be of, the oldest first."""
    to_go, number = part.count, 0
    for lots in filled:
        for place, lot in enumerate(lots):
            number += 1
            if is_of(part, lot, str(lot.lot if lot.lot is not None else number)):
                gone = lot.count if to_go is None else min(lot.count, to_go)
                to_go = None if to_go is None else to_go - gone
                lots[place] = lot.model_copy(update={"count": lot.count - gone})


def is_of(part: PouredLot, lot: Lot, name: str) -> bool:
    """Whether poured bottles are of a lot: by its name, or its place among the lots, where they name one; else by size.

    name: what the lot is called, by its place where nobody named it.
    """
    wanted = "" if part.lot is None else str(part.lot).strip().casefold()
    if wanted and (lot.lot is not None or wanted.isdigit()):
        return wanted == name.strip().casefold()
    return part.size_ml is None or round(part.size_ml) == round(lot.size_ml)


def with_vessels(life: Sequence[Event]) -> list[Event]:
    """A story in which what was poured back is followed by its vessel and closure, as a racking brings them.

    They bear its id: what rests on them rests on a line that is in the ledger.
    """
    told: list[Event] = []
    for event in life:
        told.append(event)
        if isinstance(event, PouredBack):
            keys: dict[str, Any] = {"id": event.id, "at": event.at, "batch": event.batch}
            vessel: dict[str, Any] = {"vessel": event.vessel} if "vessel" in event.model_fields_set else {}
            told.append(Racked(**keys, **vessel, volume_l=poured_litres(life, event)))
            told += [Closed(**keys, closure=event.closure)] if event.closure else []
    return told


def litres_of(lots: Sequence[Lot]) -> float:
    """Litres in lots of bottles."""
    return sum(lot.size_ml * lot.count for lot in lots) / 1000


def poured_litres(story: Sequence[Event], event: PouredBack) -> float | None:
    """Litres that one pouring back brought into its vessel; None where sizes or counts are not known."""
    bottled = [one for one in story if isinstance(one, Bottled) and one.at <= event.at]
    earlier = [one for one in story if isinstance(one, PouredBack) and one.at < event.at]
    if event.lots and all(lot.size_ml and lot.count is not None for lot in event.lots):
        return sum((lot.size_ml or 0.0) * (lot.count or 0) for lot in event.lots) / 1000
    there, stayed = (
        sum(litres_of(lots) for _, lots in _filled(bottled, poured)) for poured in (earlier, (*earlier, event))
    )
    gone = _taken_litres(bottled, story, event.at)
    return there - stayed - gone if there - stayed > gone else None


def _taken_litres(bottled: Sequence[Bottled], story: Sequence[Event], until: datetime) -> float:
    """Litres of bottles taken before, each as the smallest that there is: more may be in the vessel than less."""
    took = sum(one.count for one in story if isinstance(one, Took) and one.at <= until)
    return took * min((lot.size_ml for event in bottled for lot in event.lots), default=0.0) / 1000
