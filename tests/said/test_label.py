"""The text of a label, and what it must name."""

from __future__ import annotations

import pytest
from rules.scenario import batch_of

from mustwatch.rules.evidence.contents import INFANTS, contents_of
from mustwatch.said.label import LAW, UNKNOWN_SO2, YEAST_SO2, label_cautions, label_lines

STORY = """
    day 0         mixed 4.5l jug 5l honey 1.2kg
    day 0 09:00   read 1.090
    day 0 09:00   pitched ale
    day 60        read 0.998
    {}
    day 81        bottled 6x750 still-wine cork still
"""


@pytest.mark.parametrize(
    ("dose", "named"),
    [
        # 10 mg/L: 27 CFR 4.32(e) and Annex II of Regulation (EU) 1169/2011. In 4.5 L that is 45 mg of SO2, and
        # potassium metabisulfite is 57.6 % of it: 0.0781 g.
        ("day 70 added sulfite 0.0779g", False),
        ("day 70 added sulfite 0.0783g", True),
        ("day 70 added sulfite", True),
        ("", False),
    ],
)
def test_sulfites_are_named_from_ten_milligrams_a_litre_and_where_nobody_knows(dose: str, named: bool) -> None:
    """A dose nobody weighed never counts as little."""
    batch = batch_of(STORY.format(dose))
    contents = contents_of(batch)
    assert ("contains sulfites" in label_lines(batch, contents.named)) is named
    assert contents.unknown_sulfite is dose.endswith("sulfite")


def test_traces_and_honey_are_named() -> None:
    """Egg in the fining, and honey for whoever feeds an infant."""
    batch = batch_of(STORY.format('day 70 added fining 2g what="egg white"'))
    contents = contents_of(batch)
    lines = label_lines(batch, contents.named, INFANTS if contents.honey else "")
    assert "contains egg" in lines and "made with honey, not for infants under 12 months" in lines


def test_honey_is_assumed_where_nobody_wrote_down_what_it_is_made_of() -> None:
    """Unknown never means safe."""
    assert contents_of(batch_of("    day 0 read 1.080\n")).honey


def test_a_gap_is_left_for_a_strength_and_a_day_that_are_not_known() -> None:
    """A label without them is not whole, and a guess is worse."""
    lines = label_lines(batch_of("    day 0 mixed 4.5l jug 5l honey 1kg\n"), ())
    assert "strength: ____ % vol" in lines and "bottled: ____" in lines


def test_strength_and_day_are_told_with_the_year() -> None:
    """A bottle is read years later. 1.090 to 0.998 makes about 12 % vol by each of the common formulas."""
    lines = label_lines(batch_of(STORY.format("")), ())
    assert any(line in ("about 12 % vol", "about 12.5 % vol") for line in lines) and "bottled 21 May 2026" in lines


def test_what_to_mind_begins_with_a_hold_and_ends_with_the_law() -> None:
    """Whoever gives a bottle away reads the first line at least."""
    said = label_cautions(("sulfites",), unknown_sulfite=True, hold="One burst.")
    assert said[0].endswith("give none away: One burst.") and said[1:] == [UNKNOWN_SO2, LAW]
    assert label_cautions((), unknown_sulfite=False) == [YEAST_SO2, LAW]
