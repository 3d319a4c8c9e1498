"""Rest: when readings agree, how often one that still falls passes for it, and what unmakes it."""

from __future__ import annotations

import random

import pytest
from fermenting import day
from rules.scenario import batch_of

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.rest import Rest, rest_of, resting

RUNS = 1000

# (days apart, fall in points a day, probability that it passes): simulated with an error of one point, rounded
# to one point; figures of the trade's section on "stable enough to bottle".
PASSES = [
    (3, 1.0, 0.15), (3, 0.5, 0.48), (7, 0.5, 0.08), (7, 0.3, 0.33), (14, 0.3, 0.03), (14, 0.2, 0.18), (14, 0.1, 0.50),
]  # fmt: skip


PROVEN = """
    day 0   read 1.080
    day 0 09:30  pitched ale
    day 30  read 0.999
    day 38  read 0.998
"""


def test_a_week_of_agreement_is_a_rest():
    """Two readings within a point, eight days apart."""
    assert resting(batch_of(PROVEN)).days == 8


def test_one_low_reading_is_suspect_and_breaks_nothing():
    """It is asked for again."""
    rest = resting(batch_of(PROVEN + "    day 50 read 0.995\n"))
    assert rest.days == 8 and rest.suspect is not None


def test_two_low_readings_break_it():
    """Two in a row so low are no chance: it works again."""
    assert not resting(batch_of(PROVEN + "    day 50 read 0.995\n    day 51 read 0.995\n")).lasts(7)


def test_one_very_low_reading_breaks_it():
    """Five points are no trembling hand, and glass does not wait for a second reading."""
    assert not resting(batch_of(PROVEN + "    day 50 read 0.993\n")).lasts(7)


def test_sugar_takes_the_proof_away():
    """What was read before the feeding says nothing of what came after."""
    assert resting(batch_of(PROVEN + "    day 50 added honey 200g\n    day 51 read 0.998\n")).days == 0


def test_a_rest_read_weekly_by_a_careful_hand_stays_proven():
    """A year of weekly readings with an error of one point: it may not be called alive again."""
    broken = 0
    for seed in range(20):
        dice = random.Random(seed)
        text = PROVEN
        for week in range(1, 40):
            text += f"    day {38 + 7 * week} read {0.9985 + dice.gauss(0, 0.001):.4f}\n"
        broken += resting(batch_of(text)).days < 100
    assert broken <= 1


def test_a_slow_fall_is_no_rest():
    """A fifth of a point a day, read every third day: never steady for two weeks."""
    text = "    day 0 read 1.080\n    day 0 09:30 pitched ale\n"
    for step in range(20):
        text += f"    day {20 + 3 * step} read {1.020 - 0.0006 * step:.4f}\n"
    assert resting(batch_of(text)).days < 14


def _readings(pairs):
    return [Reading(str(d), day(d), 1 + g / 1000, "sg", sg=1 + g / 1000, error=0.001) for d, g in pairs]


def _share_passing(days, fall, between=()):
    """How often readings of a steady fall agree over so many days."""
    chance = random.Random(f"{days}{fall}{between}")
    passed = 0
    for _ in range(RUNS):
        times = sorted({0.0, *between, float(days)})
        taken = _readings([(t, float(round(chance.gauss(10 - fall * t, 1)))) for t in times])
        passed += rest_of(taken).lasts(days)
    return passed / RUNS


@pytest.mark.parametrize(("days", "fall", "table"), PASSES)
def test_a_falling_batch_passes_no_more_often_than_the_table_says(days, fall, table):
    """Two readings so far apart; 2.5 standard errors of the simulation are allowed."""
    assert _share_passing(days, fall) <= table + 2.5 * (table * (1 - table) / RUNS) ** 0.5 + 0.005


@pytest.mark.parametrize(("days", "fall", "table"), [row for row in PASSES if row[0] > 3])
def test_more_readings_in_between_never_let_a_falling_batch_pass_more_often(days, fall, table):
    """A keen reader must not be fooled more easily than a lazy one."""
    assert _share_passing(days, fall, tuple(range(2, days, 2))) <= table + 2.5 * (table * (1 - table) / RUNS) ** 0.5


def test_a_batch_at_rest_passes_more_often_with_more_readings():
    """Two readings of a finished batch disagree about three times in ten; a week of readings settles it."""
    assert _share_passing(7, 0.0) == pytest.approx(0.70, abs=0.035)
    assert _share_passing(7, 0.0, (1, 2, 3, 4, 5, 6)) > 0.70


def test_agreeing_readings_make_a_rest_from_the_first_to_the_last_of_them():
    """Days and evidence name the readings it rests on."""
    rest = rest_of(_readings([(0, 30), (10, 2), (14, 1), (20, 2)]))
    assert rest.days == 10
    assert rest.since == day(10)
    assert len(rest.readings) == 3


def test_two_readings_more_than_a_point_apart_do_not_agree():
    """Two points is a volume of gas."""
    assert rest_of(_readings([(0, 2), (9, 0)])).days == 0


def test_one_unsteady_reading_does_not_break_a_rest():
    """A third reading is asked for, never exact equality."""
    assert rest_of(_readings([(0, 0), (4, 3), (8, 0), (12, 0)])).days >= 8


def test_no_reading_is_no_rest():
    """Nothing known never means safe."""
    assert rest_of([]) == Rest()
    assert rest_of(_readings([(0, 1)])).days == 0.0


# Each number of the agreement on either side: the readings, and how many days they prove.
@pytest.mark.parametrize(
    ("pairs", "days"),
    [
        pytest.param([(0, 1.0), (8, 0.0)], 8, id="two readings a point apart agree"),
        pytest.param([(0, 1.2), (8, 0.0)], 0, id="two readings more than a point apart do not"),
        pytest.param([(0, 1.3), (4, 0.65), (8, 0.0)], 8, id="three may move by 1.35 points"),
        pytest.param([(0, 1.5), (4, 0.75), (8, 0.0)], 4, id="three may move by no more"),
        pytest.param([(0, 2.7), (1, 2.7), (8, 0.0), (9, 0.0), (10, 0.0), (11, 0.0), (12, 0.0)], 4, id="a slow line"),
        pytest.param(
            [(0, -2.7), (1, 2.7), (5, 0.0), (9, 0.0), (13, 0.0)], 13, id="two readings within 2.8 of the rest"
        ),
        pytest.param([(0, -2.9), (1, 2.9), (5, 0.0), (9, 0.0), (13, 0.0)], 8, id="two in a row beyond it end it"),
    ],
)
def test_agreement_ends_where_its_numbers_say(pairs, days):
    """A point is half a volume of gas; noise is wider."""
    assert rest_of(_readings(pairs)).days == days


@pytest.mark.parametrize(
    ("later", "held"),
    [
        pytest.param([(9, -2.3), (10, -2.3)], True, id="two in a row 2.3 below"),
        pytest.param([(9, -2.5), (10, -2.5)], False, id="two in a row 2.5 below"),
        pytest.param([(9, -2.5), (10, 0.0), (11, -2.5)], True, id="one of each two"),
        pytest.param([(9, -4.4)], True, id="one 4.4 below"),
        pytest.param([(9, -4.6)], False, id="one 4.6 below"),
        pytest.param([(9, 5.9), (10, 5.9)], True, id="two in a row 5.9 above"),
        pytest.param([(9, 6.1), (10, 6.1)], False, id="two in a row 6.1 above"),
    ],
)
def test_a_proof_of_eight_days_is_broken_where_its_numbers_say(later, held):
    """What many readings proved is not unproven by one trembling hand, and by two it is."""
    assert rest_of(_readings([(0, 0.0), (4, 0.0), (8, 0.0), *later])).lasts(7) is held


@pytest.mark.parametrize(("low", "suspect"), [(-2.3, False), (-2.5, True)])
def test_a_last_reading_too_low_to_be_noise_is_asked_again(low, suspect):
    """By itself it breaks nothing, and it is not passed over."""
    assert (rest_of(_readings([(0, 0.0), (8, 0.0), (15, low)])).suspect is not None) is suspect


@pytest.mark.parametrize(("unsteady", "held"), [(7, True), (8, False)])
def test_a_proof_is_looked_for_up_to_eight_readings_back(unsteady, held):
    """So many readings apart from it, though not far enough to break it, and nobody can say that it still holds."""
    apart = [(9 + n / 10, 4.0) for n in range(unsteady)]
    assert rest_of(_readings([(0, 0.0), (8, 0.0), *apart])).lasts(7) is held


@pytest.mark.parametrize(("days", "lasts"), [(6.76, True), (6.74, False)])
def test_a_week_may_be_six_hours_short(days, lasts):
    """Nobody reads at the same minute."""
    assert rest_of(_readings([(0, 0.0), (days, 0.0)])).lasts(7) is lasts


def test_only_the_last_sixty_readings_are_looked_at():
    """A thermometer that reads gravity every hour must not cost a second."""
    many = rest_of(_readings([(n / 10, 0.0) for n in range(100)]))
    assert many.agreeing == 60


@pytest.mark.parametrize(
    ("line", "woken"),
    [
        ("added honey 200g", True),
        ("added yeast 2g", False),
        ("added water 1l", False),
        ("added nutrient 2g", False),
        ("racked jug 5l", False),
    ],
)
def test_what_takes_the_proof_of_a_dry_batch_away(line, woken):
    """Sugar does; yeast and water find nothing in what read dry."""
    assert (resting(batch_of(PROVEN + f"    day 40 {line}\n")).days == 0) is woken


@pytest.mark.parametrize(("sg", "woken"), [("1.0004", False), ("1.0006", True)])
@pytest.mark.parametrize("line", ["added yeast 2g", "added water 1l"])
def test_yeast_and_water_wake_what_did_not_read_dry(sg, woken, line):
    """Half a mark above 1.000 is dry to the mark; water thins the alcohol that held the yeast."""
    text = PROVEN.replace("0.999", sg).replace("0.998", sg)
    assert (resting(batch_of(text + f"    day 40 {line}\n")).days == 0) is woken
