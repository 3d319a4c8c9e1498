"""What falls due: each day told is the one on which the rule itself begins to say it, and nothing is doubled."""

from __future__ import annotations

from datetime import timedelta

import pytest
from rules.scenario import DAY_ZERO, story
from test_sample_cellar import sample_events

from mustwatch.cellar.fold import Cellar, fold
from mustwatch.ledger.settings import Settings
from mustwatch.rules.due import Due, due
from mustwatch.rules.engine import judge_cellar
from mustwatch.rules.finding import Severity


def _due(text: str, days: int) -> list[Due]:
    told = story(text)
    cellar = fold(told.events, Settings(), told.at)
    return due(cellar, judge_cellar(cellar, told.at), days)


def _days(found: list[Due]) -> dict[str, int]:
    return {one.kind: (one.on - DAY_ZERO) // timedelta(days=1) for one in found}


YOUNG = """
    day 0         mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   read 1.080
    day 0 09:30   pitched ale
    day 0 10:00   closed airlock
    day 1         added nutrient 2g
    day 1 10:00   read 1.075
"""


def test_the_next_dose_of_food_falls_due_at_its_hour() -> None:
    """Two days after pitching, and it is called due twelve hours later (common practice: 24, 48 and 72 hours)."""
    found = next(one for one in _due(YOUNG, 7) if one.kind == "feeding-due")
    assert found.source == "schedule" and found.on == DAY_ZERO + timedelta(days=2, hours=9, minutes=30)
    assert found.what.startswith("Degas it gently first")


def test_the_next_reading_falls_due_three_days_after_the_last_one() -> None:
    """The rule's own wait, and one line for it, also where the state asks for a reading too."""
    found = [one for one in _due(YOUNG, 7) if one.kind in ("reading-overdue", "decide", "no-sign-of-life")]
    assert [(one.kind, (one.on - DAY_ZERO).days) for one in found] == [("reading-overdue", 4)]


@pytest.mark.parametrize("days", [3, 4])
def test_nothing_is_told_from_beyond_the_days_asked_for(days: int) -> None:
    """Day 4 is the third day after the last entry: within three days, not within two."""
    assert ("reading-overdue" in _days(_due(YOUNG, days - 1))) is (days == 4)


OAKED = """
    day 0         mixed 4.5l jug 5l honey 1.2kg
    day 0 09:10   read 1.070
    day 0 09:30   pitched ale
    day 40        read 0.998
    day 55        read 0.998
    day 56        racked jug 4.5l
    day 56 09:10  closed airlock
    day 57        added oak 10g what="oak cubes" taste_by=2026-05-08T09:00:00Z
    now day 58
"""


def test_oak_is_to_be_tasted_on_the_day_that_was_set() -> None:
    """8 May is day 68; it is found though only each seventh of the later days is looked at."""
    found = _days(_due(OAKED, 60))
    assert found["steeped-too-long"] == 68


def test_what_is_proven_and_in_peace_may_be_bottled_and_what_ails_may_not() -> None:
    """Advice to bottle beside an alarm would be taken."""
    kinds = {one.kind: one for one in _due(OAKED, 1)}
    assert "may-be-bottled" in kinds and kinds["may-be-bottled"].on <= DAY_ZERO + timedelta(days=58)
    mouldy = {one.kind for one in _due(OAKED.replace("    now", "    day 57 10:00 seen fuzzy\n    now"), 1)}
    assert "mould-seen" in mouldy and "may-be-bottled" not in mouldy


BOTTLED = """
    day 0         mixed 5l jug 5l honey 1.6kg
    day 0 09:10   read 1.115
    day 0 09:30   pitched high-tolerance
    day 60        read 0.998
    day 80        read 0.998
    day 81        bottled 3x750 still-wine cork 3x375 still-wine cork still
    now day 82
"""


def test_a_bottling_drinks_well_and_keeps_once_for_all_its_lots() -> None:
    """Above 14 % vol: twelve months from pitching, six years from bottling, and no second line by a rule."""
    found = [one for one in _due(BOTTLED, 3000) if one.source == "shelf" or one.kind == "past-its-window"]
    months = [round((one.on - DAY_ZERO) / timedelta(days=30.44)) for one in found]
    assert [one.kind for one in found] == ["drink-from", "drink-by"] and months == [12, 75]


def test_nothing_of_the_shelf_falls_due_while_it_is_on_hold() -> None:
    """Nobody should be told to taste what may burst."""
    text = BOTTLED.replace("    now day 82", "    day 82 took 1 broken burst=true\n    now day 83")
    found = _due(text, 3000)
    assert not any(one.source == "shelf" for one in found) and found[0].kind == "bottle-burst"


def test_the_day_told_is_the_first_on_which_the_rule_says_it() -> None:
    """Every line about a day to come in the sample cellar, held to judging each of the days one by one."""
    cellar, _, now = sample_events()
    findings = judge_cellar(cellar, now)
    rules = [one for one in due(cellar, findings, 60) if one.source in ("rule", "schedule")]
    present = {(one.batch, one.rule) for one in findings}
    later = [one for one in rules if (one.batch, one.kind) not in present]
    assert len(later) >= 5
    midnight = now.replace(hour=23, minute=59, second=59)
    for one in later:
        day = (one.on.date() - now.date()).days
        said = [_says(cellar, midnight + timedelta(days=on), one) for on in (day - 1, day)]
        before = _says(cellar, now, one) if day == 0 else said[0]
        assert (before, said[1]) == (False, True), one


def _says(cellar: Cellar, then, one: Due) -> bool:
    found = judge_cellar(cellar._replace(now=then), then)
    every = [*found, *(under for finding in found for under in finding.folded)]
    return any((finding.batch, finding.rule) == (one.batch, one.kind) for finding in every)


def test_no_fact_stands_twice_and_the_days_rise() -> None:
    """One fact, one line."""
    cellar, _, now = sample_events()
    found = due(cellar, judge_cellar(cellar, now), 400)
    names = [(one.batch, one.kind, one.evidence[:1]) for one in found]
    assert len(set(names)) == len(names)
    days = [max(one.on, now).date() for one in found]
    assert days == sorted(days)
    today = [one.severity for one in found if max(one.on, now).date() == now.date()]
    assert today == sorted(today, reverse=True) and today[0] is Severity.DANGER


def test_what_is_found_of_the_whole_cellar_is_told_once_whatever_batch_stands_for_it() -> None:
    """Locks nobody looked at are one fact, though batches in vessels and in bottles are judged apart."""
    cellar, _, now = sample_events()
    found = due(cellar, judge_cellar(cellar, now), 400)
    wide = [one.kind for one in found if one.kind in ("lock-dry", "gas-in-the-room")]
    assert len(wide) == len(set(wide)) > 0


def test_a_hushed_finding_falls_due_when_its_hush_ends() -> None:
    """That is what the hush said."""
    text = YOUNG + "    day 5 hushed reading-overdue until=2026-03-11T12:00:00Z\n    now day 5\n"
    assert _days(_due(text, 30))["reading-overdue"] == 10


def test_an_ended_batch_asks_for_nothing() -> None:
    """Whatever was open when it ended."""
    assert _due(YOUNG + "    day 5 ended dumped\n", 400) == []
