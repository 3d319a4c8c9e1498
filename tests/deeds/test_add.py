"""What goes in, as the command line and the form tell it: everyday names, tablets, powders of no name."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from mustwatch.cellar.fold import Cellar
from mustwatch.deeds import begin
from mustwatch.deeds.add import DEED
from mustwatch.deeds.deed import Understood, understood
from mustwatch.deeds.ground import Ground
from mustwatch.ledger.events import Added, Mixed
from mustwatch.ledger.settings import Settings

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
GROUND = Ground("fir", Cellar(NOW, Settings()), NOW)


def _typed(line: str, **more: str) -> Understood:
    assert DEED.split is not None
    return understood(DEED, DEED.split(line.split()) | more, GROUND)


@pytest.mark.parametrize(
    "line",
    ["2 campden tablets", "campden tablets 2", "2 tablets campden", "half a campden tablet", "campden 2", "2 campden"],
)
def test_tablets_are_asked_for_their_weight_in_any_order_of_words(line: str) -> None:
    """Nobody's two tablets are a mass, and a mass that is assumed is wrong by half."""
    meant = _typed(line)
    assert "how many grams" in meant.faults["amount"] and not meant.events


@pytest.mark.parametrize(("line", "grams"), [("campden tablets 0.9 g", 0.9), ("2 tablets campden 0.9g", 0.9)])
def test_tablets_that_were_weighed_are_taken_by_their_mass(line: str, grams: float) -> None:
    """The answer to the question, in the words of whoever was asked."""
    (event,) = _typed(line).events
    assert isinstance(event, Added) and (event.category, event.g) == ("sulfite", grams)


def test_tablets_of_an_unknown_mass_may_be_recorded_without_it() -> None:
    """What went in is on record, and the rules say which fact is missing."""
    (event,) = _typed("campden tablets").events
    assert isinstance(event, Added) and event.g is None and event.category == "sulfite"


def test_a_powder_of_no_known_name_is_asked_for_its_kind_once() -> None:
    """The kind that is picked is taken as it is, `other` too."""
    assert "what is it?" in _typed("white powder 3g").faults["category"]
    assert _typed("white powder 3g", category="other").events


def test_sulfite_mixed_in_with_the_must_brings_its_caution() -> None:
    """At the mixing it hurts no less, and it counts as sulfite."""
    meant = understood(begin.DEED, {"tag": "elm", "volume": "5 l", "other": "1 g k-meta"}, GROUND)
    (event,) = meant.events
    assert isinstance(event, Mixed) and event.ingredients[0].category == "sulfite"
    assert any("asthma" in caution for caution in meant.cautions)
