"""The engine: what follows folds under its cause, hushes end, order is by need, and the cache changes nothing."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from rules.scenario import judge_batch, story

from mustwatch.cellar.fold import fold
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.settings import Settings
from mustwatch.rules.catalogue import RULES
from mustwatch.rules.engine import Cache, folded, judge_cellar
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.rule import check_thresholds

SEALED = """
    day 0         mixed 4.5l jug 5l honey 1.5kg
    day 0 09:10   read 1.100
    day 0 09:30   pitched ale
    day 5         read 1.070
    day 9         read 1.050
    day 9 10:00   closed tight-cap
    day 9 11:00   swirled
"""
HEALTHY = """
    day 0         mixed 4.5l jug 5.5l honey 1.3kg
    day 0 09:10   read 1.080 must19C pH3.9
    day 0 09:30   pitched ale 19C
    day 0 09:40   closed airlock
    day 1         added nutrient 3g nitrogen_mg_per_g=100
    day 2         read 1.070 must20C
    day 4         read 1.052 must20C
    day 6         read 1.036 must20C
    day 8         read 1.022 must20C
    now day 8 12:00
"""


def cellar_of(text: str, later: timedelta = timedelta(0)):
    """The folded cellar of a story, seen at its end or later."""
    told = story(text)
    now = told.at + later
    return fold(told.events, Settings(thresholds=told.thresholds), now), now


def judged(text: str, later: timedelta = timedelta(0)) -> tuple[Finding, ...]:
    """All findings of a story."""
    cellar, now = cellar_of(text, later)
    return judge_cellar(cellar, now)


def test_a_healthy_batch_is_silent():
    """An alarm list that is never empty is never read."""
    assert judged(HEALTHY) == ()


def test_a_sealed_live_jug_is_one_finding():
    """The pressure, the missing lock and the rest follow from the closed cap."""
    found = judged(SEALED)
    assert [finding.rule for finding in found if finding.severity is Severity.DANGER] == ["sealed-while-alive"]


STALLED = """
    day 0         read 1.110 must19C
    day 0 09:30   pitched white-wine 14%
    day 0 09:40   closed airlock
    day 5         read 1.075 must18C
    day 10        read 1.050 must11C
    day 12        read 1.050 must11C
    day 13        read 1.050 must11C
    day 14        read 1.050 must11C
    day 15        read 1.050 must11C
"""


def test_a_cold_stall_keeps_the_cold_beside_it_and_the_slowness_under_it():
    """What follows from it stands below; what may have caused it is what must be mended."""
    found = {finding.rule: finding for finding in judged(STALLED)}
    assert [below.rule for below in found["stalled"].folded] == ["sluggish"]
    assert "must-too-cold" in found and "sluggish" not in found


def test_nothing_is_folded_under_something_milder():
    """A thing for today may not hide under a thing to watch."""
    view = story(STALLED).view()
    cause = next(finding for finding in judge_batch(view) if finding.rule == "stalled")
    below = cause._replace(rule="long-on-gross-lees", severity=Severity.TODAY, folded=())
    mild = cause._replace(severity=Severity.WATCH, folded=())
    assert [finding.rule for finding in folded([mild, below])] == ["stalled", "long-on-gross-lees"]
    assert [finding.rule for finding in folded([cause, below])] == ["stalled"]


def test_a_danger_sleeps_one_day_at_most_and_stays_in_sight():
    """Asleep for a month would be a month of glass under pressure."""
    text = SEALED + "    day 9 12:00   hushed sealed-while-alive until=day40\n"
    soon = next(finding for finding in judged(text) if finding.rule == "sealed-while-alive")
    assert soon.hushed_until is not None and not soon.asleep
    later = next(f for f in judged(text, timedelta(hours=25)) if f.rule == "sealed-while-alive")
    assert later.hushed_until is None


def test_a_hush_does_not_cover_the_next_danger_of_its_kind():
    """Vented, and sealed anew within the day: that is another danger."""
    text = SEALED + (
        "    day 9 12:00   hushed sealed-while-alive until=day40\n"
        "    day 9 13:00   closed airlock\n"
        "    day 9 15:00   closed tight-cap\n"
    )
    found = next(finding for finding in judged(text) if finding.rule == "sealed-while-alive")
    assert found.hushed_until is None


def test_a_milder_finding_sleeps_until_its_date_and_wakes_by_itself():
    """Hushing ends without anybody remembering it."""
    text = """
    day 0         read 1.082
    day 0 09:30   pitched ale
    day 0 09:40   closed airlock
    day 7         read 1.030
    day 9         read 1.040
    day 9 10:00   hushed gravity-rose until=day12
    """
    asleep = next(finding for finding in judged(text) if finding.rule == "gravity-rose")
    assert asleep.hushed_until is not None and asleep.asleep
    awoken = next(f for f in judged(text, timedelta(days=4)) if f.rule == "gravity-rose")
    assert awoken.hushed_until is None


def test_the_worst_comes_first():
    """Eyes start at the top."""
    severities = [finding.severity for finding in judged(SEALED)]
    assert severities == sorted(severities, reverse=True)


def test_a_cellar_and_its_batches_are_judged_alike():
    """The list and the detail pane may not contradict each other."""
    told = story(SEALED)
    assert {finding.rule for finding in judge_batch(told.view())} == {finding.rule for finding in judged(SEALED)}


def test_a_cache_changes_no_answer():
    """Kept judgements are an economy, not an opinion."""
    cellar, now = cellar_of(SEALED)
    cache = Cache()
    first = judge_cellar(cellar, now, cache)
    assert judge_cellar(cellar, now, cache) == first == judge_cellar(cellar, now)


def test_a_changed_batch_is_judged_again():
    """A cache that answers for yesterday's batch would hide a danger."""
    cache = Cache()
    cellar, now = cellar_of(SEALED.replace("tight-cap", "airlock"))
    judge_cellar(cellar, now, cache)
    cellar, now = cellar_of(SEALED)
    batch = replace(cellar.batches["jug"], revision="another")
    cellar.batches["jug"] = batch
    assert any(finding.rule == "sealed-while-alive" for finding in judge_cellar(cellar, now, cache))


@pytest.mark.parametrize(
    ("thresholds", "words"),
    [
        ({"gravity-fell": {"points": 3}}, "no rule has this name"),
        ({"gravity-rose": {"pints": 3}}, "is not a threshold of this rule"),
        ({"gravity-rose": {"points": 300}}, "must be 2 to 20 points, got 300"),
    ],
)
def test_a_threshold_that_cannot_be_is_refused_in_one_line(thresholds, words):
    """A silent fallback would leave someone believing in a number that is not used."""
    with pytest.raises(ValueError, match=words):
        check_thresholds(Settings(thresholds=thresholds), (module.RULE for module in RULES))


def test_a_hush_does_not_cover_the_closure_of_the_next_vessel():
    """Hushed for a year, it was about the jug of that day; the one it was racked into has a closure of its own."""
    told = """
        day 0         mixed 4.5l jug 5l honey 1.5kg
        day 0 09:30   pitched ale
        day 1         hushed closure-not-recorded until=day400
    """
    (asleep,) = [f for f in judge_batch(story(told).view()) if f.rule == "closure-not-recorded"]
    assert asleep.hushed_until is not None
    racked = story(told + "        day 30        racked jug 5l 4l\n").view()
    (awake_again,) = [f for f in judge_batch(racked) if f.rule == "closure-not-recorded"]
    assert awake_again.hushed_until is None


def test_an_entry_dated_into_the_future_is_told():
    """Nobody can have closed a jug next year; until the date is mended the tight cap would stand for an airlock."""
    view = story("    day 0         mixed 4.5l jug 6l honey 1.5kg\n    day 0 10:00   closed airlock\n").view()
    slip = stamped(draft("closed", view.now + timedelta(days=365), "jug", closure="tight-cap"), "slip", None)
    (found,) = [
        f for f in judge_batch(view._replace(batch=replace(view.batch, ahead=(slip,)))) if f.evidence == ("slip",)
    ]
    assert found.severity is Severity.TODAY and "still to come" in found.says
