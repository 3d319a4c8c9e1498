"""The shelf: what holds a lot, and what does not."""

from __future__ import annotations

import pytest
from rules.scenario import story

from mustwatch.cellar.fold import fold
from mustwatch.ledger.settings import Settings
from mustwatch.rules.engine import judge_cellar
from mustwatch.rules.shelf import bottles_left, shelf, with_bottles

PROVEN = """
    day 0         mixed 5l jug 5l honey 1kg
    day 0 09:10   read 1.080
    day 0 09:30   pitched ale
    day 40        read 0.998
    day 60        read 0.998
    day 61        bottled 6x750 still-wine cork 3x330 beer crown-cap still
"""


def _shelf(text: str):
    told = story(text)
    cellar = fold(told.events, Settings(), told.at)
    return shelf(cellar, judge_cellar(cellar, told.at))


def test_what_was_proven_and_left_in_peace_is_not_on_hold() -> None:
    """A shelf where all is on hold is no use."""
    assert [one.hold for one in _shelf(PROVEN + "    now day 70\n")] == [None, None]


def test_a_burst_bottle_holds_every_lot_of_the_same_drink() -> None:
    """The other lot was filled from the same vessel on the same day."""
    found = _shelf(PROVEN + "    day 80 took 1 broken burst=true\n    now day 81\n")
    assert [one.hold.rule for one in found] == ["bottle-burst"] * 2 and bottles_left(found) == 8


def test_bottles_filled_sweet_are_on_hold_with_the_words_of_the_finding() -> None:
    """The judgement is the finding's own, and so are its words."""
    text = PROVEN.replace("0.998", "1.020") + "    now day 62\n"
    holds = [one.hold for one in _shelf(text)]
    assert all(hold is not None and hold.severity.word == "danger" for hold in holds)


def test_what_holds_a_lot_is_the_same_when_only_batches_with_bottles_are_judged() -> None:
    """Three hundred batches are not judged for the sake of two lots; nor is an empty one."""
    told = story(PROVEN + "    day 80 took 1 broken burst=true\n    day 1 @oak read 1.080\n    now day 81\n")
    cellar = fold(told.events, Settings(), told.at)
    part = with_bottles(cellar)
    assert len(part.batches) == 1 < len(cellar.batches)
    whole, some = (shelf(cellar, judge_cellar(one, told.at)) for one in (cellar, part))
    assert [one.hold for one in whole] == [one.hold for one in some]
    emptied = story(PROVEN + "    day 80 took 9 drunk\n")
    assert with_bottles(fold(emptied.events, Settings(), emptied.at)).batches == {}


def test_a_hush_takes_nothing_off_hold() -> None:
    """It silences a word, and makes no bottle safer."""
    text = (
        PROVEN
        + "    day 80 took 1 broken burst=true\n    day 80 10:00 hushed bottle-burst until=2027-01-01T00:00:00Z\n"
    )
    assert all(one.hold for one in _shelf(text + "    now day 81\n"))


def test_an_empty_lot_is_not_on_hold() -> None:
    """There is nothing left to burst."""
    text = "\n".join(line for line in PROVEN.splitlines()).replace(" 3x330 beer crown-cap", "")
    found = _shelf(text + "\n    day 80 took 1 broken burst=true\n    day 81 took 5 drunk\n    now day 82\n")
    assert [one.hold for one in found] == [None] and bottles_left(found) == 0


@pytest.mark.parametrize(("scores", "last"), [((), None), ((7,), 7), ((7, 8.5), 8.5)])
def test_the_score_is_that_of_the_last_tasting_that_gave_one(scores: tuple[float, ...], last: float | None) -> None:
    """Meads change; the last word counts."""
    lines = [f"    day {80 + place} tasted score_of_10={score}\n" for place, score in enumerate(scores)]
    found = _shelf(PROVEN + "".join(lines) + "    day 90 tasted palate=thin\n")
    assert [one.score for one in found] == [last, last]
