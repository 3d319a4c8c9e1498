"""The state of a batch, story by story."""

import random
from dataclasses import replace

import pytest
from fermenting import SETTINGS, day, event, fermenting, honey, racked, sorbate

from mustwatch.judgement.state import judge, judge_afresh
from mustwatch.ledger.events import Pitched

FLAT = [(0, 1.110), (3, 1.080), (6, 1.060), (9, 1.060), (12, 1.059)]


def _verdict(readings, until=None, **keys):
    batch = fermenting(readings, until=until, **keys)
    last = max((at for at, _ in readings), default=0.0)
    return judge(batch, SETTINGS, day(until if until is not None else last))


def test_nothing_pitched_has_no_state():
    """A must on its own does not ferment."""
    assert _verdict([(0, 1.110)], pitched=False).state is None


def test_before_the_first_fall_it_is_lag():
    """Six to 48 hours are usual; four days are the limit."""
    assert _verdict([(0, 1.110), (1, 1.109)]).state == "lag"
    assert _verdict([(0, 1.110)], until=2).state == "lag"


def test_a_clear_fall_is_moving():
    """Two readings three days apart and thirty points."""
    assert _verdict([(0, 1.110), (3, 1.080)]).state == "moving"


def test_a_stand_far_above_the_end_is_stalled_and_then_confirmed():
    """One window says so, a second reading day confirms."""
    first = _verdict(FLAT[:4])
    second = _verdict(FLAT)
    assert (first.state, first.confirmed) == ("stalled", False)
    assert (second.state, second.confirmed) == ("stalled", True)
    assert second.fall + 1.645 * second.fall_error < 1.0


@pytest.mark.parametrize("every", [1, 2, 3, 7])
def test_the_day_from_which_it_stalled_does_not_slide_while_it_stands(every):
    """Eight weeks of readings that tremble by a point: the stand began on the tenth day, and that stays its day."""
    stand = [(10 + every * number, 1.060 + 0.001 * (number % 2)) for number in range(56 // every)]
    told = [_verdict([(0, 1.110), (3, 1.085), (6, 1.070), *stand[:count]]) for count in range(5, len(stand) + 1)]
    assert {verdict.state for verdict in told} == {"stalled"}
    assert {verdict.since for verdict in told} == {day(10)}


def test_a_stall_after_a_true_fall_begins_anew():
    """It was roused, fell by twenty points and stood again: the second stand has a day of its own."""
    readings = [*FLAT, (15, 1.050), (18, 1.040), (22, 1.040), (25, 1.040)]
    assert _verdict(readings).since == day(18)


def test_two_equal_numbers_a_day_apart_are_not_a_stall():
    """A day lies inside the noise of the glass; it says when it can be decided."""
    verdict = _verdict([*FLAT[:3], (7, 1.060)])
    assert verdict.state == "undecided" or verdict.state == "moving"
    short = _verdict([(0, 1.110), (8, 1.060), (9, 1.060)], until=9)
    assert short.state != "stalled"


def test_undecided_names_the_day_on_which_one_more_reading_tells():
    """With a reading on that day the very same stand is called stalled."""
    readings = [(0, 1.110), (5, 1.060), (6, 1.060)]
    verdict = _verdict([(0, 1.110), (20, 1.060), (21, 1.060)], until=21)
    assert verdict.state == "undecided"
    assert day(21) <= verdict.decide_on <= day(24)
    told = (verdict.decide_on - day(0)).total_seconds() / 86400
    assert _verdict([(0, 1.110), (20, 1.060), (21, 1.060), (told, 1.060)]).state == "stalled"
    assert _verdict(readings).state in ("moving", "undecided")


def test_a_later_fall_ends_the_stall_at_once():
    """A finding that does not go away when the thing does is not believed the next time."""
    assert _verdict([*FLAT, (14, 1.050)]).state == "moving"


def test_no_stall_in_the_first_four_days():
    """Slow starts are common."""
    assert _verdict([(0, 1.110), (1, 1.106), (3.5, 1.106)]).state != "stalled"


def test_a_single_wrong_reading_makes_no_stall():
    """Another vessel's reading in the middle of a fall."""
    falling = [(0, 1.110), (3, 1.090), (5, 1.076), (7, 1.062)]
    assert _verdict([*falling, (9, 1.075)]).state != "stalled"
    assert _verdict([*falling, (9, 1.075), (11, 1.036)]).state == "moving"


def test_standing_at_the_yeasts_own_tolerance_is_no_stall():
    """1.130 with 12 % vol: it stops near 1.040, which is stable and not a stall."""
    readings = [(0, 1.130), (5, 1.080), (15, 1.040), (22, 1.040), (30, 1.040)]
    verdict = _verdict(readings, tolerance=12.0)
    assert verdict.state in ("stable", "finished")
    assert verdict.may_hold > 30


def test_a_stabilised_batch_that_stands_is_not_stalled():
    """It was told to stand."""
    readings = [(0, 1.110), (6, 1.060), (10, 1.045), (13, 1.045), (16, 1.045), (25, 1.045)]
    assert _verdict(readings, extra=[sorbate(9)]).state in ("undecided", "stable")


def test_feeding_raises_gravity_without_alarm():
    """Honey opens a new stretch; the old readings do not count against it."""
    readings = [(0, 1.100), (5, 1.050), (8, 1.030), (8.6, 1.055), (10, 1.048), (13, 1.035)]
    verdict = _verdict(readings, extra=[honey(8.5)])
    assert verdict.state == "moving"
    assert "sugar" in verdict.cuts


def test_sugar_after_the_last_reading_undoes_a_rest():
    """Finished, then fed: nobody knows until it is read."""
    readings = [(0, 1.090), (10, 0.998), (20, 0.997), (30, 0.997)]
    assert _verdict(readings).state == "finished"
    fed = _verdict(readings, until=31, extra=[honey(30.5)])
    assert fed.state == "undecided"
    assert not fed.rest.readings


def test_racking_does_not_undo_a_rest():
    """Racking brings no sugar."""
    readings = [(0, 1.090), (10, 0.998), (20, 0.997), (30, 0.997)]
    assert _verdict(readings, until=31, extra=[racked(30.5)]).state == "finished"


def test_racking_a_moving_batch_leaves_it_moving_until_it_is_read():
    """The last that was known."""
    assert _verdict([(0, 1.110), (3, 1.080), (5, 1.060)], until=6, extra=[racked(5.5)]).state == "moving"


def test_no_stall_is_judged_across_a_racking():
    """Racking takes yeast and gas away; the window starts anew, and one reading is none."""
    readings = [(0, 1.110), (3, 1.080), (6, 1.060), (9, 1.060)]
    assert _verdict(readings, extra=[racked(8)]).state != "stalled"


def test_new_yeast_undoes_a_rest():
    """A stalled batch pitched again may start at any hour."""
    readings = [(0, 1.110), (6, 1.060), (9, 1.060), (20, 1.060), (30, 1.060)]
    verdict = _verdict(readings, until=31, extra=[event(Pitched, 30.5, yeast={"class": "sparkling"})])
    assert verdict.state == "undecided"
    assert verdict.rest.days == 0


def test_stable_is_not_finished():
    """Rest at 1.020 with a yeast that could go on: stable after two weeks, never finished."""
    readings = [(0, 1.090), (10, 1.006), (18, 1.006), (26, 1.006)]
    assert _verdict(readings).state == "stable"


@pytest.mark.parametrize(("last", "state"), [(16, "undecided"), (17, "finished")])
def test_a_dry_batch_needs_a_week_of_agreement(last, state):
    """Three days are a rest, seven the least for what is dry."""
    assert _verdict([(0, 1.080), (5, 1.020), (10, 0.996), (last, 0.996)]).state == state


def test_what_is_strong_needs_two_weeks():
    """Above 14 % vol a slow tail hides for longer."""
    readings = [(0, 1.125), (8, 1.050), (20, 0.998), (28, 0.998)]
    verdict = _verdict(readings, tolerance=18.0, yeast_class="sparkling")
    assert verdict.needed.days == 14
    assert verdict.state == "undecided"
    assert verdict.decide_on == day(34)


def test_slow_but_moving_is_sluggish():
    """Half a point a day with fifty to go."""
    readings = [(0, 1.110), (6, 1.090), (13, 1.084), (20, 1.077)]
    assert _verdict(readings).state == "sluggish"


def test_without_a_start_gravity_a_stand_is_undecided_or_stable_and_says_what_is_missing():
    """A stall cannot be told from an end; that is said, not guessed."""
    verdict = _verdict([(20, 1.090), (30, 1.090), (60, 1.090)])
    assert verdict.state == "stable"
    assert "start gravity" in verdict.missing
    assert verdict.least_end is None


def test_an_old_reading_of_a_moving_batch_tells_nothing_of_today():
    """Unknown is said."""
    verdict = _verdict([(0, 1.110), (3, 1.080)], until=40)
    assert verdict.state == "undecided"
    assert verdict.decide_on == day(40)


def test_the_judgement_is_of_the_batch_alone():
    """The same batch under another tag is judged alike."""
    batch = fermenting(FLAT)
    other = replace(batch, tag="other")
    assert judge(batch, SETTINGS, day(12)) == judge(other, SETTINGS, day(12))


# Share of runs that declare a stall, error one point, rounded to one point: (days read, still, at one point a day).
# The first column is the least, the second the most allowed; figures of the trade's section on stalls.
DECLARED = [
    ((0, 3), 0.63, 0.04), ((0, 1, 2, 3), 0.71, 0.05), ((0, 2, 4), 0.85, 0.04), ((0, 1, 2, 3, 4), 0.92, 0.05),
    ((0, 1, 2, 3, 4, 5), 0.99, 0.06),
]  # fmt: skip
RUNS = 300


def _share_declared(days, fall):
    """How often one look at readings of a steady fall, two weeks after pitching, calls them a stall."""
    chance = random.Random(f"{days}{fall}")
    base = fermenting([(0, 1.110), (14, 1.060)])
    start, sample = base.readings
    declared = 0
    for _ in range(RUNS):
        taken = [
            sample._replace(id=str(n), at=day(14 + n), sg=1 + round(chance.gauss(60 - fall * n, 1)) / 1000)
            for n in days
        ]
        readings = (start, *taken)
        batch = replace(base, readings=readings, stretches=(base.stretches[0]._replace(readings=readings),))
        declared += judge_afresh(batch, SETTINGS, day(14 + days[-1])).state == "stalled"
    return declared / RUNS


@pytest.mark.parametrize(("days", "least", "most"), DECLARED)
def test_stalls_are_declared_as_often_as_the_table_says(days, least, most):
    """Power at no fall, false alarms at one point a day; three standard errors of the simulation are allowed."""
    assert _share_declared(days, 0.0) >= least - 3 * (least * (1 - least) / RUNS) ** 0.5 - 0.02
    assert _share_declared(days, 1.0) <= most + 3 * (most * (1 - most) / RUNS) ** 0.5


def test_two_points_a_day_are_never_a_stall():
    """The last column of the table is nought."""
    assert _share_declared((0, 1, 2, 3, 4, 5), 2.0) == 0


def test_one_reading_shows_neither_a_fall_nor_a_stand():
    """So nobody need look back to where there was but one: whatever went in since, and however long it stood."""
    from itertools import product

    for sg, days, more in product((1.110, 1.060, 1.000), (1, 6, 30, 200), ([], [honey(2)], [sorbate(2)], [racked(2)])):
        verdict = _verdict([(0.5, sg)], until=days, extra=more)
        assert verdict.state in ("lag", "undecided") and verdict.fall is None, (sg, days, more)


def test_looking_back_stops_where_fewer_readings_are_left_than_asked_for():
    """By default it goes to the first."""
    from mustwatch.judgement.state import earlier_verdicts

    batch = fermenting([(0, 1.110), (3, 1.080), (6, 1.060)], until=6)
    assert [len(seen.good_readings) for seen, _ in earlier_verdicts(batch, SETTINGS, fewest=2)] == [2]
    assert [len(seen.good_readings) for seen, _ in earlier_verdicts(batch, SETTINGS)] == [2, 1]
