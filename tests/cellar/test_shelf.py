"""Bottles poured back into a vessel: what is left on the shelf, what lies in the vessel, and what stands of it."""

from datetime import timedelta

import pytest
from rules.scenario import DAY_ZERO, batch_of

from mustwatch.cellar.shelf import bottles_of
from mustwatch.judgement.proof import proof_of
from mustwatch.ledger.drafts import draft, stamped

BASE = """
    day 0         mixed 6l jug 7l honey 1.5kg
    day 0 09:10   read 1.075
    day 0 09:30   pitched ale
    day 0 09:40   closed airlock
    day 45        read 0.998
    day 60        read 0.998
    day 61        bottled 4x750 still-wine cork 6x330 beer crown-cap still priming10g
"""


@pytest.mark.parametrize(("lines", "left", "shelf"), [
    ("", 10, [(4, 6)]), ("poured_back jug 5l airlock", 0, []), ("poured_back 4x750 jug 5l airlock", 6, [(6,)]),
    ("poured_back allx750 jug 5l airlock", 6, [(6,)]), ("poured_back 3x750 jug 5l airlock", 7, [(1, 6)]),
    ("poured_back 3x500 jug 5l airlock", 7, [(4, 6)]), ("poured_back 4x750 6x330 jug 5l airlock", 0, []),
    ("took 1 drunk|poured_back jug 5l airlock", 0, []), ("took 1 drunk|poured_back allx750 jug airlock", 6, [(6,)]),
    ("took 1 drunk|poured_back 3x750 jug airlock", 6, [(1, 6)]),
    ("poured_back 3x750 jug airlock|poured_back allx750 jug airlock", 6, [(6,)]),
    ("poured_back jug 5l airlock|bottled 2x500 beer cork", 2, [(2,)]),
])  # fmt: skip
def test_bottles_are_counted_by_lot_as_far_as_that_is_known(lines, left, shelf):
    """A bottle taken is of no lot, one that was poured back is of its size; none is counted away twice."""
    days = range(70, 80)
    text = "".join(f"    day {day} {line}\n" for day, line in zip(days, lines.split("|"), strict=False) if line)
    batch = batch_of(BASE + text)
    assert batch.bottles_left == left
    assert [tuple(lot.count for lot in event.lots) for event in batch.on_shelf] == shelf


@pytest.mark.parametrize(("poured", "left"), [
    ({"lot": "B", "count": 4}, [("a", 3)]), ({"lot": "b", "size_ml": 500}, [("a", 3)]),
    ({"lot": 2, "count": 4}, [("a", 3), ("b", 4)]), ({"size_ml": 500, "count": 4}, [("b", 3)]),
    ({"lot": "c", "count": 4}, [("a", 3), ("b", 4)]),
])  # fmt: skip
def test_lots_are_told_apart_by_name_where_both_have_one(poured, left):
    """Two lots of one size may be of two bottlings; a name that is not there is of neither."""
    lots = [{"lot": "a", "size_ml": 500, "count": 3}, {"lot": "b", "size_ml": 500, "count": 4}]
    filled, back = (
        stamped(draft(kind, DAY_ZERO + timedelta(days=day), "jug", lots=told), kind, day)
        for day, (kind, told) in enumerate((("bottled", lots), ("poured_back", [poured])), 1)
    )
    shelf = bottles_of([filled], [], [back])["on_shelf"]
    assert [(lot.lot, lot.count) for event in shelf for lot in event.lots] == left


@pytest.mark.parametrize(("name", "left"), [("2", [3]), (1, [4]), ("small", [3])])
def test_lots_nobody_named_are_called_by_their_place(name, left):
    """As the shelf calls them; a name that no lot has says nothing, and the size tells."""
    lots = [{"size_ml": 750, "count": 3}, {"size_ml": 500, "count": 4}]
    poured = [{"lot": name, "size_ml": 500, "count": 4}] if name != 1 else [{"lot": 1, "size_ml": 500, "count": 3}]
    filled, back = (
        stamped(draft(kind, DAY_ZERO + timedelta(days=day), "jug", lots=told), kind, day)
        for day, (kind, told) in enumerate((("bottled", lots), ("poured_back", poured)), 1)
    )
    shelf = bottles_of([filled], [], [back])["on_shelf"]
    assert [lot.count for event in shelf for lot in event.lots] == left


def test_what_is_left_has_its_share_of_the_priming():
    """So much a litre as there was."""
    left = batch_of(BASE + "    day 70 poured_back 4x750 jug 5l airlock\n").on_shelf[0]
    assert left.priming.g == pytest.approx(10 * 1.98 / 4.98)


@pytest.mark.parametrize(("words", "litres"), [
    ("4x750", 3.0), ("allx750", 3.0), ("", 4.98), ("2x750 3x330", 2.49),
])  # fmt: skip
def test_what_was_poured_back_fills_the_vessel(words, litres):
    """Its volume, its vessel and the free space come from the bottles."""
    batch = batch_of(BASE + f"    day 70 poured_back {words} jug 5l airlock\n")
    assert batch.volume_l == pytest.approx(litres)
    assert (batch.vessel_kind, batch.capacity_l) == ("jug", 5.0)
    assert batch.headspace_l == pytest.approx(5 - litres, abs=0.001)


def test_bottles_that_were_gone_before_are_not_in_the_vessel():
    """Each as the smallest there is: rather too much in the vessel than too little."""
    batch = batch_of(BASE + "    day 65 took 2 drunk\n    day 70 poured_back jug 5l airlock\n")
    assert batch.volume_l == pytest.approx(4.98 - 0.66)


@pytest.mark.parametrize(("words", "kind", "vented"), [
    ("airlock", "airlock", True), ("tight-cap", "tight-cap", False), ("", None, False),
])  # fmt: skip
def test_its_closure_is_that_of_the_new_vessel(words, kind, vented):
    """The airlock of the old vessel says nothing of this one."""
    closing = batch_of(BASE + f"    day 70 poured_back jug 5l {words}\n").closing
    assert (closing.kind, closing.vented, closing.evidence) == (kind, vented, "day 70 poured_back")


@pytest.mark.parametrize(("words", "stage", "vessel_stage"), [
    ("poured_back jug 5l airlock", "secondary", None), ("poured_back 4x750 jug 5l airlock", "bottled", "secondary"),
    ("poured_back allx750 allx330 jug airlock", "secondary", None),
])  # fmt: skip
def test_it_lies_in_a_vessel_again(words, stage, vessel_stage):
    """All of it, or a part beside the bottles that are left."""
    batch = batch_of(BASE + f"    day 70 {words}\n")
    assert (batch.stage, batch.vessel_stage, batch.active) == (stage, vessel_stage, True)


def test_bottled_anew_it_is_bottled():
    """The first bottles are gone, the new ones are judged by what was read since."""
    batch = batch_of(BASE + "    day 70 poured_back jug 5l airlock\n    day 71 bottled 6x750 still-wine cork\n")
    assert (batch.stage, batch.vessel_stage, len(batch.on_shelf)) == ("bottled", None, 1)


def test_pouring_back_takes_every_proof_of_rest_away():
    """One bottle was read, and the others may be otherwise."""
    text = BASE + "    day 70 poured_back jug 5l airlock\n"
    assert not proof_of(batch_of(text)).steady
    assert proof_of(batch_of(text + "    day 71 read 0.998\n    day 85 read 0.998\n")).steady


def test_an_end_before_it_is_none():
    """What is poured back is there."""
    batch = batch_of(BASE + "    day 70 ended given\n    day 71 poured_back jug 5l airlock\n")
    assert batch.stage == "secondary"


def test_what_is_added_to_it_goes_into_its_vessel():
    """Nothing is astray where a vessel is on record."""
    batch = batch_of(BASE + "    day 70 poured_back jug 5l airlock\n    day 71 added sulfite 0.4g\n")
    assert not batch.astray and len(batch.additions) == 1
