"""`shelf`: the keys of the contract, and lines that say what is not known."""

from __future__ import annotations

import pytest

KEYS = {"batch", "lot", "bottled_on", "size_ml", "made", "left", "hold", "hold_why", "drink_from", "drink_by", "score"}


@pytest.fixture
def bottled(fir):
    """Fir, proven dry and bottled into two lots."""
    for words in (
        ("log", "fir", "0.998", "20C", "@2026-04-20"),
        ("log", "fir", "0.998", "20C", "@2026-05-10"),
        ("bottle", "fir", "4 x 750ml still-wine cork", "2 x 330ml beer crown-cap", "--style", "still",
         "--at", "2026-05-11 10:00"),
    ):  # fmt: skip
        ran = fir(*words)
        assert ran.status == 0, ran.err
    return fir


def test_json_has_the_keys_of_the_contract(bottled) -> None:
    """Lots as they were filled, and all that is left in one number."""
    found = bottled("shelf", "--json").json
    assert all(set(lot) >= KEYS for lot in found["lots"])
    assert [(lot["made"], lot["left"], lot["size_ml"]) for lot in found["lots"]] == [(4, 4, 750), (2, 2, 330)]
    assert found["bottles"] == 6 and found["lots"][0]["bottled_on"].startswith("2026-05-11T10:00")


def test_a_bottle_of_no_named_lot_is_told_as_such(bottled) -> None:
    """Neither lot is said to have lost it."""
    bottled("take", "fir", "1", "--at", "2026-05-20")
    found = bottled("shelf", "--json").json
    assert found["bottles"] == 5 and [lot["left"] for lot in found["lots"]] == [None, None]
    assert [(lot["left_least"], lot["left_most"]) for lot in found["lots"]] == [(3, 4), (1, 2)]
    out = " ".join(bottled("shelf").out.split())
    assert "3 to 4 of 4 left; 1 more taken, of which lot is not known" in out and "5 bottles in 2 lots" in out


def test_a_burst_bottle_puts_all_on_hold_and_the_window_is_not_spoken_of(bottled) -> None:
    """Nobody should read when a suspect lot drinks well."""
    bottled("take", "fir", "1", "--burst", "--at", "2026-05-20")
    ran = bottled("--now", "2026-05-21T12:00:00Z", "shelf")
    assert "!! ON HOLD" in ran.out and "bottle-burst" in ran.out and "drinks well" not in ran.out
    lots = bottled("--now", "2026-05-21T12:00:00Z", "shelf", "--json").json["lots"]
    assert all(lot["hold"] and "bottle-burst" in lot["hold_why"] for lot in lots)


def test_empty_lots_are_counted_and_told_with_all(bottled) -> None:
    """The shelf shows what stands on it."""
    bottled("take", "fir", "6", "--at", "2026-05-20")
    assert bottled("shelf").out.startswith("no bottle on the shelf") and "2 lots are empty" in bottled("shelf").out
    assert "0 of 4 left" in bottled("shelf", "--all").out
    assert bottled("shelf", "--json").json["bottles"] == 0


def test_lines_fit_the_terminal_and_names_cannot_act_on_it(bottled) -> None:
    """A lot's name comes from a file somebody else may have written."""
    assert all(len(line) <= 79 for line in bottled("shelf").out.splitlines())


def test_a_cellar_without_bottles_says_so(fir) -> None:
    """No output at all would look like a failure."""
    assert fir("shelf").out == "no bottle on the shelf\n"
