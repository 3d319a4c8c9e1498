"""The sugar fed on the way: points by mass, by measure, and by the readings around it."""

from __future__ import annotations

import pytest
from rules.scenario import batch_of

BEFORE = "    day 0 read 1.080 20C\n    day 0 pitched ale\n    day 4 read 1.050 20C\n"


@pytest.mark.parametrize(
    ("added", "points"),
    [
        ("sugar 500g", 38.5), ("honey 500g", 30.8), ("honey 500ml", 43.7), ("juice 1l", 8.0), ("fruit 1kg", 6.9),
        ("water 1l", 0.0), ("nutrient 5g", 0.0),
    ],
)  # fmt: skip
def test_an_addition_counts_by_its_sugar(added: str, points: float) -> None:
    """In 5 l. Sucrose gives 0.385 points for a gram a litre (density at 10 %, CRC Handbook); honey is four fifths sugar
    and weighs 1.42 kg a litre, juice and fruit hold about a tenth: typical figures, common practice."""
    batch = batch_of(f"    day 0 mixed 5l\n{BEFORE}    day 5 added {added}\n")
    volume = {"water 1l": 6, "juice 1l": 6, "honey 500ml": 5.5}.get(added, 5.0)
    assert batch.added_points == pytest.approx(points * 5 / volume, abs=0.06)


@pytest.mark.parametrize(("after", "points"), [("1.070", 38.5), ("1.095", 45.0)])
def test_the_readings_around_a_feeding_count_where_they_tell_of_more(after: str, points: float) -> None:
    """What was weighed is a floor: more may have been poured than was written down."""
    batch = batch_of(f"    day 0 mixed 5l\n{BEFORE}    day 5 added sugar 500g\n    day 6 read {after} 20C\n")
    assert batch.added_points == pytest.approx(points, abs=0.1)


def test_a_feeding_without_its_mass_counts_by_the_readings_alone() -> None:
    """And nothing where these tell nothing: the rules name the missing mass."""
    assert batch_of(f"    day 0 mixed 5l\n{BEFORE}    day 5 added sugar\n").added_points == 0
