"""Bottles counted lot by lot: what is certain, and what nobody wrote down."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rules.scenario import DAY_ZERO, batch_of

from mustwatch.cellar.fold import fold
from mustwatch.cellar.lots import lots_of
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.settings import Settings

TWO = """
    day 0         mixed 15l carboy 20l honey 4kg
    day 60        bottled 12x750 still-wine cork 6x330 beer crown-cap still
"""


def _left(text: str) -> list[tuple[int | None, int | None, int | None]]:
    return [(lot.least_left, lot.left, lot.most_left) for lot in lots_of(batch_of(text))]


def test_each_bottle_of_the_only_lot_is_known_to_be_of_it() -> None:
    """Made 12, drunk 2, tested 1, given 3, broken 1: five are left."""
    text = "    day 60 bottled 12x750 still-wine cork still\n" + "".join(
        f"    day 90 took {count} {why}\n" for count, why in ((2, "drunk"), (1, "tested"), (3, "given"), (1, "broken"))
    )
    (lot,) = lots_of(batch_of(text))
    assert (lot.made, lot.opened, lot.given, lot.broken, lot.left) == (12, 3, 3, 1, 5)


def test_a_bottle_of_no_named_lot_may_be_of_either() -> None:
    """Two of eighteen went: 10 to 12 of the large are left, 4 to 6 of the small; 16 in all is known."""
    assert _left(TWO + "    day 90 took 2 drunk\n") == [(10, None, 12), (4, None, 6)]


def test_more_than_one_lot_can_give_tells_of_the_other() -> None:
    """Ten went and the small lot had six: the large lost four at least."""
    assert _left(TWO + "    day 90 took 10 drunk\n") == [(2, None, 8), (0, None, 6)]


def test_when_all_are_gone_none_is_left_of_either() -> None:
    """Nothing more is uncertain then."""
    assert _left(TWO + "    day 90 took 18 drunk\n") == [(0, 0, 0), (0, 0, 0)]


def test_a_take_that_names_its_lot_counts_there() -> None:
    """By its number where it has no name, whatever the case of its name."""
    kinds = [{"lot": "A", "size_ml": 750, "count": 6}, {"lot": "B", "size_ml": 330, "count": 9}]
    filled = draft("bottled", DAY_ZERO, "oak", lots=kinds)
    took = draft("took", DAY_ZERO + timedelta(days=1), "oak", count=2, why="given", lot="a")
    batch = fold([filled, took], Settings(), took.at).batches["oak"]
    assert [(lot.name, lot.given, lot.left) for lot in lots_of(batch)] == [("A", 2, 4), ("B", 0, 9)]
    assert _left(TWO + "    day 90 took 2 given lot=2\n") == [(12, 12, 12), (4, 4, 4)]


def test_what_was_taken_before_the_second_bottling_is_of_the_first() -> None:
    """It can be of no other."""
    text = "    day 60 bottled 6x750 still\n    day 70 took 2 drunk\n    day 80 bottled 6x750 still\n"
    assert _left(text) == [(4, 4, 4), (6, 6, 6)]


def test_bottles_nobody_counted_have_no_count() -> None:
    """Not known is not none."""
    assert _left("    day 60 bottled still\n    day 70 took 1 drunk\n") == [(None, None, None)]


def test_nothing_is_left_of_an_ended_batch() -> None:
    """Whatever was not taken one by one went with the end."""
    assert _left(TWO + "    day 90 ended drunk\n") == [(0, 0, 0), (0, 0, 0)]


def test_bottles_of_an_earlier_life_under_the_same_tag_are_not_on_the_shelf() -> None:
    """The tag was used again after its end."""
    text = TWO + "    day 90 took 3 drunk\n    day 91 ended drunk\n    day 100 mixed 5l jug 5l honey 1kg\n"
    assert _left(text + "    day 160 bottled 5x750 still\n") == [(5, 5, 5)]


@given(
    made=st.lists(st.integers(0, 9), min_size=1, max_size=4),
    taken=st.lists(st.tuples(st.integers(1, 4), st.integers(0, 4)), max_size=6),
)
def test_the_lots_always_add_up_to_what_the_batch_has_left(made: list[int], taken: list[tuple[int, int]]) -> None:
    """Held to a reckoning of its own: every way the unnamed bottles may be shared out, tried one by one."""
    lines = [f"    day 60 bottled {' '.join(f'{count}x750' for count in made)} still"]
    left, unnamed = list(made), 0
    for count, lot in taken:
        if lot < len(made):
            if left[lot] < count:
                continue
            left[lot] -= count
            lines.append(f"    day 80 took {count} drunk lot={lot + 1}")
    for count, lot in taken:
        if lot >= len(made) and sum(left) - unnamed >= count:
            unnamed += count
            lines.append(f"    day 90 took {count} drunk")
    ways = _shared(left, unnamed)
    found = lots_of(batch_of("\n".join(lines) + "\n"))
    for place, lot in enumerate(found):
        counts = [way[place] for way in ways]
        assert lot.least_left == min(counts) and lot.most_left == max(counts)


def _shared(left: list[int], gone: int) -> list[list[int]]:
    """Every way in which so many bottles can be gone from lots that hold so many."""
    if not left:
        return [[]] if gone == 0 else []
    first, *rest = left
    return [[first - n, *way] for n in range(min(first, gone) + 1) for way in _shared(rest, gone - n)]


@pytest.mark.parametrize(("lines", "left"), [
    ("poured_back jug airlock", [0, 0]), ("poured_back allx750 jug airlock", [0, 6]),
    ("poured_back 4x330 jug airlock", [12, 2]), ("took 2 drunk lot=1|poured_back jug airlock", [0, 0]),
    ("poured_back 9x500 jug airlock", [12, 6]),
])  # fmt: skip
def test_what_was_poured_back_is_off_the_shelf(lines: str, left: list[int]) -> None:
    """By its size or its name; what fits no lot is of none."""
    text = "".join(f"    day {day} {line}\n" for day, line in enumerate(lines.split("|"), 90))
    assert [lot.left for lot in lots_of(batch_of(TWO + text))] == left
