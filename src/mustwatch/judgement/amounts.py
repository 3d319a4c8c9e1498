"""Amounts that cannot all be right: what was mixed against its volume, bottles against what there was to fill them."""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from mustwatch.cellar.holding import litres_bottled
from mustwatch.cellar.shelf import poured_litres
from mustwatch.ledger.events import Added, Bottled, Event, Ingredient, Mixed, PouredBack, Racked
from mustwatch.trade.library import INGREDIENTS
from mustwatch.trade.must import Part, kg_from_litres, mixed, part

MEASURED = 0.08  # of a volume by which honey, water and a mark on the jug may differ, common practice
OVER = 0.10  # of the volume that bottles may hold more: a mark on a jug and the fill of a bottle, common practice
TO_THE_BRIM = 1.1  # of what a vessel is said to hold


class Reckoned(NamedTuple):
    """What honey, sugar and water make: litres, and specific gravity."""

    volume_l: float
    sg: float


def reckoned(ingredients: Sequence[Ingredient]) -> Reckoned | None:
    """The must that these make; None where one of them is fruit or juice, or has no amount, or water is not named."""
    filling = [one for one in ingredients if one.category in ("honey", "sugar", "water", "juice", "fruit")]
    kinds = {one.category for one in filling}
    if not {"water", "honey"} <= kinds or kinds & {"fruit", "juice"}:
        return None
    try:
        parts = [_part(one) for one in filling if one.category != "water"]
        water = [one.l if one.l is not None else one.kg for one in filling if one.category == "water"]
        if None in parts or None in water:
            return None
        must = mixed([one for one in parts if one], water_l=sum(one or 0.0 for one in water))
    except ValueError:
        return None
    return Reckoned(must.volume_l, must.sg)


def _part(one: Ingredient) -> Part | None:
    known = INGREDIENTS["honey" if one.category == "honey" else "sugar"]
    if one.kg is None and (one.l is None or one.category != "honey"):
        return None
    kg = one.kg if one.kg is not None else kg_from_litres(known, one.l or 0.0)
    if one.sugar_pct is None and one.water_pct is None:
        return part(known, kg)
    sugar_pct = one.sugar_pct if one.sugar_pct is not None else 100 - (one.water_pct or 0.0)
    return Part(one.what, kg, sugar_pct, one.water_pct if one.water_pct is not None else 100 - sugar_pct)


def unfit_volume(volume_l: float | None, ingredients: Sequence[Ingredient]) -> Reckoned | None:
    """What the ingredients make, where that is not the volume stated; None where the two fit or one is not known."""
    made = reckoned(ingredients)
    if made is None or not volume_l or abs(made.volume_l - volume_l) <= MEASURED * made.volume_l:
        return None
    return made


class Overfilled(NamedTuple):
    """Bottles that hold more than there was: the last bottling, litres in all bottles filled, litres there were."""

    event: Bottled
    bottled_l: float
    volume_l: float


def overfilled(story: Sequence[Event]) -> Overfilled | None:
    """The first bottling that was more than the vessel held; None where none was, or nobody wrote how much it held."""
    for event in story:
        if isinstance(event, Bottled) and not event.sure:
            volume_l, filled = _held(story, event.at)
            if volume_l is not None and _is_over(litres_bottled(filled), volume_l):
                return Overfilled(event, litres_bottled(filled), volume_l)
    return None


def room_left(story: Sequence[Event], at: datetime) -> float | None:
    """Litres that bottles may still be filled with at a time, 0 at least; None where nobody wrote how much there was.

    A mark on a jug and the fill of a bottle are good to a tenth: as much as that may be more.
    """
    volume_l, filled = _held(story, at)
    return None if volume_l is None else max(0.0, volume_l - litres_bottled(filled))


def is_too_much(bottled_l: float, story: Sequence[Event], at: datetime) -> bool:
    """Whether bottles of so many litres, filled at a time, hold more than there was."""
    volume_l, filled = _held(story, at)
    return volume_l is not None and _is_over(bottled_l + litres_bottled(filled), volume_l)


def _held(story: Sequence[Event], at: datetime) -> tuple[float | None, list[Bottled]]:
    """(litres the vessel was last filled with, with what was added since; the bottlings since)."""
    volume_l, more_l = None, 0.0
    filled: list[Bottled] = []
    for event in story:
        if event.at > at:
            break
        if isinstance(event, PouredBack):
            volume_l, more_l, filled = poured_litres(story, event), 0.0, []
        elif isinstance(event, Mixed | Racked) and event.volume_l is not None:
            volume_l, more_l, filled = event.volume_l, 0.0, []
        elif isinstance(event, Racked) and volume_l and event.vessel.capacity_l:
            volume_l = min(volume_l, event.vessel.capacity_l * TO_THE_BRIM)
        elif isinstance(event, Added) and event.category in ("water", "juice", "honey"):
            more_l += event.l or (event.g or 0.0) / 1000
        elif isinstance(event, Bottled):
            filled.append(event)
    return (None if volume_l is None else volume_l + more_l), filled


def _is_over(bottled_l: float, volume_l: float) -> bool:
    return bottled_l > volume_l * (1 + OVER) + 1e-6
