"""Numbers from published home logs: what an old hand said of them, the rules must say too.

The numbers are those of eight logs that home mead makers published; only dates, gravities and acts are kept.
"""

from __future__ import annotations

from rules.scenario import DAY_ZERO, judge_batch, story

from mustwatch.rules.finding import Finding, Severity


def found_at(text: str, day: float) -> dict[str, Finding]:
    """The findings of a story on one day, by rule; those folded under others too."""
    from datetime import timedelta

    view = story(text).view(DAY_ZERO + timedelta(days=day, hours=12))
    top = judge_batch(view)
    return {finding.rule: finding for finding in (*top, *(below for each in top for below in each.folded))}


STRONG = """
    day 0         mixed 4.5l jug 5.5l honey 1.6kg
    day 0 09:10   read 1.110 pH4.12 must17C
    day 0 09:30   pitched high-tolerance 18%
    day 0 09:40   closed airlock
    day 1         added nutrient 4g
    day 25        read 1.016 pH3.85 must17C
    day 31        read 1.008 pH3.90 must17C
    day 31 10:00  racked 4l jug 4.2l
    day 31 10:10  closed airlock
    day 35        seen still
"""


def test_a_quiet_lock_after_racking_at_1_008_is_no_stall():
    """It has made 13 %, its yeast bears more: it is to be read again, and nothing is wrong."""
    found = found_at(STRONG, 35)
    assert not {"stalled", "sluggish", "stopped-at-tolerance"} & set(found)
    assert all(finding.severity < Severity.TODAY for finding in found.values())


TWO_VESSELS = """
    day 0         read 1.082
    day 0 09:30   pitched ale
    day 0 09:40   closed airlock
    day 7         read 1.067
    day 7 10:00   racked 18l carboy 20l
    day 7 10:10   closed airlock
    day 23        read 1.030
    day 30        read 1.040
    day 50        read 1.026
    day 58        read 1.020
    day 80        read 1.020
    day 100       bottled 24x750 still-wine cork still
"""


def test_a_reading_from_the_other_vessel_is_a_rise():
    """1.030, then 1.040: two vessels were read under one name."""
    assert found_at(TWO_VESSELS, 30)["gravity-rose"].severity is Severity.TODAY
    assert "gravity-rose" not in found_at(TWO_VESSELS, 50)


def test_a_racking_at_1_067_of_1_082_was_early():
    """Most of the sugar was still there, and most of the yeast stayed behind."""
    assert found_at(TWO_VESSELS, 7)["racked-too-early"].severity is Severity.NOTE


def test_bottling_at_1_020_without_stabiliser_is_a_danger():
    """Steady for three weeks, and 20 points of sugar in closed glass."""
    found = found_at(TWO_VESSELS, 100)
    assert found["bottled-sweet"].severity is Severity.DANGER
    assert "bottled-before-stable" not in found


def test_fast_and_slow_honest_ferments_are_no_impossible_numbers():
    """2.2 points a day for nine days; 27 a day for two; 10 in a day: yeast does that."""
    for text in (
        "day 0 read 1.100\n    day 0 09:30 pitched ale\n    day 9 read 1.080",
        "day 0 read 1.105\n    day 0 09:30 pitched ale\n    day 6 read 1.090",
        "day 0 read 1.094\n    day 0 09:30 pitched ale\n    day 2 read 1.040",
        "day 0 read 1.140\n    day 0 09:30 pitched high-tolerance\n    day 1 read 1.130",
        "day 0 read 1.100\n    day 0 09:30 pitched ale\n    day 4 read 1.062",
    ):
        told = story("    " + text)
        found = {finding.rule for finding in judge_batch(told.view())}
        assert not found & {"impossible-number", "gravity-rose", "stalled", "sluggish", "no-sign-of-life"}, text


NO_START = """
    day 0         pitched ale
    day 0 09:40   closed airlock
    day 60        read 1.090
"""


def test_1_090_after_two_months_without_a_start_gravity_says_what_is_missing():
    """Nobody can tell a stall from a sack must or a misread scale; so that is what is said."""
    found = found_at(NO_START, 60)
    assert "start-gravity-missing" in found and "stalled" not in found
    assert any("start gravity" in fact for fact in story(NO_START).view().verdict.missing)
