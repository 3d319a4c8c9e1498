"""What keeps the sugar, and why not, number by number."""

import pytest
from rules.scenario import batch_of

from mustwatch.judgement.proof import proof_of
from mustwatch.judgement.protected import wine_ph
from mustwatch.trade.sorbate import sorbate_dose

SWEET = """
    day 0         mixed 5l jug 5l honey 1.5kg
    day 0 09:10   read 1.120
    day 0 09:30   pitched ale
    day 40        read 1.030 pH3.4
    day 41        added sulfite 0.4g
    day 41 10:00  added sorbate 1g
    day 60        read 1.030
"""


def _protection(text):
    return proof_of(batch_of(text)).protection


def test_enough_of_both_keeps_it():
    """And nothing had to be assumed."""
    held = _protection(SWEET)
    assert held.holds and held.missing == ()
    assert held.ids == ("day 41 added", "day 41 added #2")


@pytest.mark.parametrize(
    ("was", "becomes", "against"),
    [
        ("added sulfite 0.4g", "seen clear", "no sulfite with sorbate is recorded"),
        ("added sorbate 1g", "seen clear", "no sulfite with sorbate is recorded"),
        ("added sorbate 1g", "added sorbate", "recorded without their amounts"),
        ("added sulfite 0.4g", "added sulfite 5ml", "recorded without their amounts"),
        ("mixed 5l jug 5l honey 1.5kg", "mixed jug honey 1.5kg", "the volume they went into is not recorded"),
        ("day 60 ", "day 45 added yeast 2g\n    day 60 ", "yeast went in after"),
        ("added sorbate 1g", "added sorbate 0.2g", "is less than the"),
    ],
)
def test_what_does_not_keep_it_says_why(was, becomes, against):
    """One reason, in words that any page can end a sentence with."""
    held = _protection(SWEET.replace(was, becomes))
    assert not held.holds and against in held.against


# 0.103 g of potassium salt in 5 L are 11.9 mg/L of SO2, 0.105 g are 12.1.
@pytest.mark.parametrize(("grams", "holds"), [("0.103", False), ("0.105", True)])
def test_sulfite_below_12_mg_a_litre_is_none(grams, holds):
    """Nine tenths of what pH 3.0 asks for."""
    assert _protection(SWEET.replace("0.4g", f"{grams}g")).holds is holds


@pytest.mark.parametrize(("day", "holds"), [("day 55 ", True), ("day 56 ", False)])
def test_sulfite_and_sorbate_belong_together_for_two_weeks(day, holds):
    """Given further apart one is spent before the other comes."""
    assert _protection(SWEET.replace("day 41 10:00  added sorbate", f"{day}09:00 added sorbate")).holds is holds


@pytest.mark.parametrize(("share", "holds"), [(0.905, True), (0.895, False)])
def test_nine_tenths_of_the_dose_will_do(share, holds):
    """By the table at the low estimate of its alcohol, 11.6 %, and pH 3.4."""
    asked = sorbate_dose(proof_alcohol(), 3.4)
    assert (
        _protection(SWEET.replace("added sorbate 1g", f"added sorbate {asked * share * 5 / 1000:.4f}g")).holds is holds
    )


def proof_alcohol():
    """The low estimate of the alcohol made from 1.120 to 1.030."""
    from mustwatch.trade.strength import alcohol_range

    return alcohol_range(1.120, 1.030).low


# By the rule of thumb less 0.2 % of noise: 77.6 points are 9.99 %, 77.8 are 10.01.
@pytest.mark.parametrize(("start", "holds"), [("1.1076", False), ("1.1078", True)])
def test_below_ten_per_cent_no_dose_will_do(start, holds):
    """The bench refuses one there; by the low estimate."""
    text = SWEET.replace("1.120", start).replace("1.5kg", "1.4kg").replace("added sorbate 1g", "added sorbate 1.3g")
    assert _protection(text).holds is holds


@pytest.mark.parametrize(("ph", "holds"), [("3.5", True), ("3.51", False)])
def test_above_ph_3_5_no_dose_will_do(ph, holds):
    """The bench refuses one there."""
    assert (
        _protection(SWEET.replace("pH3.4", f"pH{ph}").replace("added sorbate 1g", "added sorbate 1.3g")).holds is holds
    )


def test_a_ph_that_is_not_known_counts_as_the_worst_of_the_table_and_is_named():
    """Enough at pH 3.5 is enough at any pH at which sorbate works."""
    assert _protection(SWEET.replace(" pH3.4", "")).missing == ("the pH of the wine",)
    dose = sorbate_dose(proof_alcohol(), 3.5)
    for share, holds in ((0.95, True), (0.85, False)):
        grams = f"added sorbate {dose * share * 5 / 1000:.4f}g"
        assert _protection(SWEET.replace(" pH3.4", "").replace("added sorbate 1g", grams)).holds is holds


@pytest.mark.parametrize(("day", "ph"), [("day 13 09:00", None), ("day 14 10:00", 3.9)])
def test_the_ph_of_a_must_is_not_that_of_its_wine(day, ph):
    """It falls by some tenths in the first two weeks."""
    assert wine_ph(batch_of(SWEET.replace(" pH3.4", "") + f"    {day} read pH3.9\n")) == ph


def test_the_higher_of_the_last_two_ph_counts():
    """A meter trembles; a doubt is on the unsafe side, and two readings end it."""
    text = SWEET + "    day 61 read pH3.6\n"
    assert wine_ph(batch_of(text)) == 3.6
    assert wine_ph(batch_of(text + "    day 62 read pH3.3\n")) == 3.6
    assert wine_ph(batch_of(text + "    day 62 read pH3.3\n    day 63 read pH3.3\n")) == 3.3
