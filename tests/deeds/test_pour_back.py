"""Bottles poured back and heat, as they are typed."""

from __future__ import annotations

import pytest
from rules.scenario import DAY_ZERO, story

from mustwatch.cellar.fold import fold
from mustwatch.deeds.deed import Ground, understood
from mustwatch.deeds.heat import DEED as HEAT
from mustwatch.deeds.pour_back import DEED as POUR_BACK
from mustwatch.ledger.settings import Settings

BOTTLED = story("    day 0 pitched ale\n    day 61 bottled 4x750 still-wine cork 6x330 beer crown-cap still\n")


def _ground(told=BOTTLED) -> Ground:
    return Ground("jug", fold(told.events, Settings(), told.at), told.at)


def _poured(words: list[str], **more: str):
    assert POUR_BACK.split is not None
    return understood(POUR_BACK, POUR_BACK.split(words) | more, _ground())


@pytest.mark.parametrize(("words", "lots"), [
    ([], []), (["all"], []), (["all bottles"], []), (["4 x 750ml"], [(750, 4)]), (["4", "x", "750ml"], [(750, 4)]),
    (["all x 330ml"], [(330, None)]), (["all", "330ml"], [(330, None)]), (["all of the 330 ml"], [(330, None)]),
    (["4 x 750ml", "2 x 330ml"], [(750, 4), (330, 2)]),
])  # fmt: skip
def test_lots_are_read_as_people_write_them(words, lots):
    """All of them, so many of a size, or all of a size."""
    (event,) = _poured(words).events
    assert [(lot.size_ml, lot.count) for lot in event.lots] == lots


@pytest.mark.parametrize(("words", "fault"), [
    (["11 x 750ml"], "10 bottles left, 11 cannot be poured"), (["some"], "write it like all"),
])  # fmt: skip
def test_what_cannot_be_is_asked_about(words, fault):
    """More than there are, or no count."""
    assert fault in _poured(words).faults["lots"]


def test_a_vessel_too_small_for_the_bottles_is_asked_about():
    """Three litres do not go into two."""
    assert "into" in _poured(["4 x 750ml"], into="jug 2 l").faults
    assert not _poured(["4 x 750ml"], into="jug 3.5 l").faults


def test_a_batch_without_bottles_has_none_to_pour_back():
    """It was never bottled."""
    bare = story("    day 0 pitched ale\n")
    assert "no bottles" in understood(POUR_BACK, {"lots": "all"}, _ground(bare)).faults["lots"]


def test_its_closure_is_told_not_to_be_known():
    """As after a racking."""
    assert any("closure NOT KNOWN" in line for line in _poured(["all"]).words)
    assert not any("NOT KNOWN" in line for line in _poured(["all"], closure="airlock").words)


def test_a_sealed_closure_brings_its_caution():
    """What comes out of bottles that fell still ferments."""
    assert len(_poured(["all"], closure="tight-cap").cautions) == 1 + len(_poured(["all"]).cautions)


@pytest.mark.parametrize(("to", "minutes", "said"), [
    ("65C", "10", "52 pasteurisation units, enough"), ("65C", "9", "47 pasteurisation units, not enough"),
    ("65C", "", "counts for nothing"), ("50C", "60", "counts for nothing"),
])  # fmt: skip
def test_it_is_said_what_heat_is_worth(to, minutes, said):
    """Before anybody rests on it."""
    meant = understood(HEAT, {"what": "bottles", "to": to, "minutes": minutes}, _ground())
    assert any(said in line for line in meant.words), meant.words


@pytest.mark.parametrize(("what", "words"), [("bottles", "A closed bottle bursts"), ("must", "Never seal it hot")])
def test_heat_has_its_cautions(what, words):
    """Each its own; with nothing said yet, both."""
    meant = understood(HEAT, {"what": what, "to": "65C"}, _ground())
    assert len(meant.cautions) == 1 and words in meant.cautions[0]
    assert len(HEAT.cautions({})) == 2


def test_a_must_that_was_heated_is_hot():
    """Its warmth is on record, as if it had been read."""
    hot = story("    day 0 mixed 4.5l jug 5l honey 1.5kg\n    day 0 10:00 heated must 80C 20min\n").view().batch
    assert [(t.celsius, t.of_air) for t in hot.temperatures] == [(80.0, False)]
    assert hot.temperatures[0].at > DAY_ZERO
