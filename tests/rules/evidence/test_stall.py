"""Why a must may have stalled: what is on record, in the order of its likelihood, and what to do about its warmth."""

from __future__ import annotations

from datetime import timedelta

import pytest
from rules.scenario import Story, judge_batch, story

from mustwatch.rules.evidence.stall import causes
from mustwatch.rules.evidence.warmth import warmth_step
from mustwatch.rules.finding import Finding

MIXED = "day 0 mixed 4.5l jug 5l honey 1.5kg water 3.5l"
STAND = "\n".join(f"    day {day} read 1.060" for day in (10, 12, 13, 14))


def stalled(*lines: str, start: str = "1.105") -> Story:
    """A must that has stalled at 1.060 since the tenth day, seen on the fourteenth."""
    told = [MIXED, f"day 0 read {start}", "day 0 09:30 pitched white-wine 14%", *lines]
    return story("\n".join(f"    {line}" for line in told) + f"\n{STAND}\n    now day 14 12:00")


def finding(told: Story) -> Finding:
    """What is said of the stall."""
    return next(found for found in judge_batch(told.view()) if found.rule == "stalled")


@pytest.mark.parametrize(
    ("must_c", "step"),
    [(12.9, "Warm"), (13.0, "Warm"), (16.4, "Warm"), (16.5, "Keep"), (18.5, "Keep"), (24.0, "Keep"), (24.1, "Cool")],
)
def test_a_must_within_its_yeasts_range_is_never_cooled(must_c: float, step: str):
    """White-wine yeast likes 13 to 24 °C: at 23 °C the advice to go to the middle was advice to cool a stall."""
    view = stalled(f"day 13 read must{must_c}C").view()
    assert warmth_step(view).split()[0] == step
    assert any(line.split()[0] == step for line in finding(stalled(f"day 13 read must{must_c}C")).do)


@pytest.mark.parametrize("rule", ["stalled", "sluggish"])
def test_no_advice_of_a_slow_must_names_a_goal_below_where_it_stands(rule: str):
    """Whatever the rule: at 23 °C nothing speaks of 18.5 °C."""
    begun = "    day 0 read 1.105\n    day 0 09:30 pitched white-wine 14%\n"
    slow = begun + "".join(f"    day {day} read {1.090 - 0.0015 * day:.4f} must23C\n" for day in (6, 9, 12, 15))
    told = stalled("day 13 read must23C") if rule == "stalled" else story(slow)
    found = [one for one in judge_batch(told.view()) if one.rule == rule]
    assert found and not any("18.5" in step or "Cool" in step for one in found for step in one.do)


def test_causes_stand_in_the_order_of_their_likelihood():
    """Warmth, sourness, food, strength, age: as an old hand asks."""
    told = stalled("day 13 read must10C pH3.1", start="1.130")
    view = told.view(told.at + timedelta(days=20))
    assert [cause.split(" (")[0] for cause in causes(view)] == [
        "cold",
        "low pH",
        "no yeast food on record",
        "strength",
        "age",
    ]
    assert "likeliest first: cold (10 °C), low pH (3.1), no yeast food" in finding(told).says


def test_one_cause_is_not_told_as_a_list():
    """And none is said to be none."""
    fed = ("day 1 added nutrient 5g", "day 13 read must20C pH3.6")
    assert "No cause is on record." in finding(stalled(*fed)).says
    assert "Likely cause on record: no yeast food on record." in finding(stalled(fed[1])).says


@pytest.mark.parametrize(("ph", "sour"), [("3.19", True), ("3.2", False)])
def test_a_ph_counts_below_its_limit(ph: str, sour: bool):
    """The same limit as the rule on sour musts."""
    assert any(cause.startswith("low pH") for cause in causes(stalled(f"day 13 read pH{ph}").view())) is sour


@pytest.mark.parametrize(("days", "aged"), [(13.9, False), (14.0, True)])
def test_age_counts_from_two_weeks_on(days: float, aged: bool):
    """Counted from the day the stall began, which does not slide."""
    told = stalled()
    view = told.view(told.at.replace(hour=9) + timedelta(days=days - 4))
    assert any(cause.startswith("age") for cause in causes(view)) is aged


@pytest.mark.parametrize(("start", "strong"), [("1.120", False), ("1.121", True)])
def test_a_strong_start_counts_above_its_limit(start: str, strong: bool):
    """The same limit as the rule on strong musts."""
    assert any(cause.startswith("strength") for cause in causes(stalled(start=start).view())) is strong


def test_alcohol_near_what_the_yeast_bears_counts_as_strength():
    """A yeast of 8 %, at 1.060 from 1.118: seven and a half made."""
    told = stalled(start="1.118").view()
    assert not any(cause.startswith("strength") for cause in causes(told))
    weak = story(f"    {MIXED}\n    day 0 read 1.118\n    day 0 09:30 pitched ale 8%\n{STAND}").view()
    assert any(cause.startswith("strength (about 8 % vol made)") for cause in causes(weak))


def test_findings_that_explain_a_stall_keep_their_own_line():
    """What must be mended was folded away under what it caused."""
    told = stalled("day 12 read must10C pH2.9", "day 13 read must10C pH2.9", "day 14 read must10C pH2.9")
    found = judge_batch(told.view())
    assert {"stalled", "must-too-cold", "must-too-sour"} <= {one.rule for one in found}


def test_one_more_reading_is_asked_for_once():
    """Two sentences for one act read like two acts."""
    told = story(
        "    day 0 read 1.105\n    day 0 09:30 pitched white-wine 14%\n    day 10 read 1.060\n    day 14 read 1.060"
    )
    seems = finding(told)
    assert seems.says.startswith("It seems stalled since 11 Mar")
    assert sum("again" in step for step in seems.do) == 1 and "reading" not in seems.do[0].lower().replace(
        "read the", ""
    )
    assert not any("one more reading" in text for text in (seems.says, *seems.do))
