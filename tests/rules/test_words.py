"""Numbers and dates as findings say them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from rules.scenario import story

from mustwatch.judgement.doses import sulfites
from mustwatch.ledger.settings import Settings
from mustwatch.rules import words
from mustwatch.said.figures import listed

VIEW = story("    day 0  read 1.100\n    day 0  pitched ale").view()


@pytest.mark.parametrize(("scale", "shown"), [("sg", "1.040"), ("brix", "10.0 Bx"), ("plato", "10.0 P")])
def test_gravity_is_said_in_the_scale_of_the_cellar(scale: str, shown: str):
    """1.040 is 10.0 in both tables, to a tenth."""
    assert words.gravity(VIEW._replace(settings=Settings(gravity=scale)), 1.040) == shown


def test_temperature_is_said_in_the_unit_of_the_cellar():
    """70 °F is no number for one who reads °C, and the other way round."""
    assert words.temperature(VIEW, 21.1) == "21.1 °C"
    assert words.temperature(VIEW._replace(settings=Settings(temperature="F")), 21.1) == "70 °F"
    assert words.warmth(VIEW._replace(settings=Settings(temperature="F")), 5) == "9 °F"


@pytest.mark.parametrize(
    ("days", "shown"),
    [(0.5, "12 hours"), (1 / 24, "1 hour"), (2, "2 days"), (20.9, "20 days"), (35, "35 days"), (200, "28 weeks")],
)
def test_a_span_is_said_in_whole_units_never_rounded_up(days: float, shown: str):
    """Nobody is told that more time went by than did."""
    assert words.span(days) == words.span(timedelta(days=days)) == shown


def test_a_day_of_another_year_has_its_year():
    """1 May of which year, in a cellar of years."""
    assert words.date(VIEW, datetime(2026, 5, 1, tzinfo=UTC)) == "1 May"
    assert words.date(VIEW, datetime(2024, 5, 1, tzinfo=UTC)) == "1 May 2024"


def test_what_is_missing_of_a_dose_is_named_with_its_day():
    """How much it was, or into how much it went."""
    view = story("    day 0 mixed 10l carboy 12l\n    day 9 added sulfite\n    day 10 added sulfite 1g").view()
    assert words.unknown_doses(view, sulfites(view.batch)) == ("how much sulfite was given on 10 Mar",)
    view = story("    day 0 mixed jug\n    day 9 added sulfite 1g").view()
    assert words.unknown_doses(view, sulfites(view.batch)) == ("the volume it went into on 10 Mar",)


def test_a_yeast_without_a_name_is_called_by_its_class():
    """`this yeast (yeast)` would say nothing."""
    assert words.yeast(VIEW) == "this yeast (ale yeast)"


def test_names_are_listed_as_one_speaks():
    """One, two, many."""
    assert [listed(names) for names in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]
