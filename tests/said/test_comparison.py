"""Two batches beside each other: what differs, and the chart of both."""

from __future__ import annotations

from mustwatch.said.comparison import Fact, chart, differs


def test_what_is_told_alike_does_not_differ() -> None:
    """1.0421 and 1.0419 are both 1.042 on a hydrometer."""
    one = [
        Fact("recipe", "start_sg", "start gravity", 1.0421, "1.042"),
        Fact("recipe", "style", "style", "sack", "sack"),
    ]
    other = [Fact("recipe", "start_sg", "start gravity", 1.0419, "1.042"), Fact("recipe", "style", "style", None, "")]
    assert [(a.key, a.value, b.value) for a, b in differs(one, other)] == [("style", "sack", None)]


def test_each_reading_has_its_mark_at_its_day_and_height() -> None:
    """Highest on top, last at the right; where both stand on one spot neither is hidden."""
    lines = chart([(0, 1.1), (10, 1.0)], [(0, 1.1), (5, 1.05)], width=11, height=3)
    assert lines == ["  1.100  *", "              b", "  1.000            a", "         day 0day 10"]


def test_a_chart_of_nothing_has_no_line_and_of_one_reading_has_its_mark() -> None:
    """A division by nought is no chart."""
    assert chart([], []) == [] and sum(line.count("a") for line in chart([(0, 1.05)], [])[:-1]) == 1
