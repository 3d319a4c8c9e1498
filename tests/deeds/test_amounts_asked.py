"""Amounts that do not fit together are asked about when they are typed, with the reckoned value offered."""

from __future__ import annotations

import pytest
from rules.scenario import story

from mustwatch.cellar.fold import fold
from mustwatch.deeds.begin import DEED as BEGIN
from mustwatch.deeds.bottle import DEED as BOTTLE
from mustwatch.deeds.deed import Ground, Understood, understood
from mustwatch.deeds.end import DEED as END
from mustwatch.ledger.events import Ended, Mixed, Took
from mustwatch.ledger.settings import Settings

FIR = """
    day 0         mixed 4.5l jug 5l honey 1.5kg water 3.45l
    day 0 09:30   pitched ale g=3
    day 1         added nutrient 2g
"""


def _ground(text: str = FIR) -> Ground:
    told = story(text)
    return Ground("jug", fold(told.events, Settings(gallon="us"), told.at), told.at)


def _begun(**texts: str) -> Understood:
    return understood(BEGIN, {"tag": "oak"} | texts, _ground())


def _mixed(**texts: str) -> Mixed:
    (event,) = _begun(**texts).events
    assert isinstance(event, Mixed)
    return event


def test_a_gallon_of_water_in_a_gallon_of_must_is_asked_about():
    """With what the two make."""
    meant = _begun(honey="3 lb", water="1 US gal", volume="1 US gal")
    assert "make about 4.72 L at 1.092, not 3.79 L" in meant.faults["volume"]


@pytest.mark.parametrize("more", [{"volume": "4.74 l"}, {"volume": "1 US gal", "sure": "yes"}, {}])
def test_what_fits_or_is_sure_is_taken(more: dict[str, str]):
    """A fact must be recordable; the answer stands in the line."""
    assert bool(_mixed(honey="3 lb", water="1 US gal", **more).sure) is ("sure" in more)


def test_a_recipe_repeated_in_another_volume_is_scaled():
    """Twice the volume has twice the honey, twice the water, and needs a vessel of its own."""
    mixed = _mixed(**{"from": "jug", "volume": "9 l"})
    assert [(part.kg, part.l) for part in mixed.ingredients] == [(3.0, None), (None, 6.9)]
    assert (mixed.volume_l, mixed.vessel.capacity_l, mixed.recipe_only, mixed.from_batch) == (9.0, None, True, "jug")


def test_yeast_and_its_food_are_told_in_the_new_measure():
    """They went in after the mixing, and would be kept in the old one from memory."""
    words = " ".join(_begun(**{"from": "jug", "volume": "9 l"}).words)
    assert "times 2" in words and "6 g of yeast" in words and "4 g of nutrient" in words


@pytest.mark.parametrize("volume", [{}, {"volume": "4.5 l"}])
def test_a_recipe_repeated_in_the_same_volume_is_kept(volume: dict[str, str]):
    """Its vessel too."""
    mixed = _mixed(**{"from": "jug"} | volume)
    assert [part.kg for part in mixed.ingredients] == [1.5, None] and mixed.vessel.capacity_l == 5.0


def test_amounts_of_an_unknown_volume_cannot_be_scaled():
    """Nobody knows by what."""
    ground = _ground(FIR.replace("4.5l jug 5l", "jug 5l"))
    meant = understood(BEGIN, {"tag": "oak", "from": "jug", "volume": "9 l"}, ground)
    assert "cannot be scaled" in meant.faults["volume"]


def test_a_recipe_and_a_drink_are_two_things():
    """Whichever was meant decides whether it is alive."""
    assert "not both" in _begun(**{"from": "jug", "part_of": "jug"}).faults["part_of"]


@pytest.mark.parametrize(("lot", "asked"), [("6 x 750ml", False), ("7 x 750ml", True)])
def test_more_bottles_than_the_batch_holds_are_asked_about(lot: str, asked: bool):
    """Over all lots, with how many there could be."""
    meant = understood(BOTTLE, {"lot1": lot}, _ground())
    assert bool(meant.faults) is asked
    assert not asked or "6 x 750ml would take it" in meant.faults["lot1"]
    assert not understood(BOTTLE, {"lot1": lot, "sure": "yes"}, _ground()).faults


def test_bottles_of_an_earlier_bottling_count_too():
    """Three litres are gone already."""
    ground = _ground(FIR + "    day 60 bottled 4x750 still-wine cork still\n")
    assert understood(BOTTLE, {"lot1": "3 x 750ml"}, ground).faults
    assert not understood(BOTTLE, {"lot1": "2 x 750ml"}, ground).faults


BOTTLED = FIR + "    day 60 bottled 6x750 still-wine cork still\n    day 90 took 1 drunk\n"


@pytest.mark.parametrize("outcome", ["drunk", "given"])
def test_an_end_with_bottles_left_is_asked_about(outcome: str):
    """They would lie there, watched by nobody."""
    assert "5 bottles left" in understood(END, {"outcome": outcome}, _ground(BOTTLED)).faults["left"]
    took, ended = understood(END, {"outcome": outcome, "left": "taken"}, _ground(BOTTLED)).events
    assert isinstance(took, Took) and (took.count, took.why) == (5, outcome)
    assert isinstance(ended, Ended) and not ended.sure
    (ended,) = understood(END, {"outcome": outcome, "left": "stay"}, _ground(BOTTLED)).events
    assert isinstance(ended, Ended) and ended.sure


@pytest.mark.parametrize(("outcome", "text"), [
    ("dumped", BOTTLED), ("drunk", FIR), ("drunk", BOTTLED + "    day 91 took 5 drunk\n"),
])  # fmt: skip
def test_an_end_without_bottles_needs_no_answer(outcome: str, text: str):
    """What is poured out is poured out whole."""
    (ended,) = understood(END, {"outcome": outcome}, _ground(text)).events
    assert ended.kind == "ended"
