"""Which lots the words of a person may mean."""

import pytest
from rules.scenario import batch_of

from mustwatch.rules.evidence.bottles import lots_meant

BASE = """
    day 0         read 1.075
    day 0 09:30   pitched ale
    day 45        read 0.998
    day 60        read 0.998
    day 61        bottled 3x750 still-wine cork 6x330 beer crown-cap still
"""


@pytest.mark.parametrize(("text", "said"), [
    ("the 330 hissed", "6 x 330 ml beer crown-cap"), ("750ml, hissed", "3 x 750 ml still-wine cork"),
    ("hissed", "3 x 750 ml still-wine cork, 6 x 330 ml beer crown-cap"),
])  # fmt: skip
def test_the_lot_is_named_where_the_words_name_it(text, said):
    """By its size; else it may be any."""
    assert lots_meant(batch_of(BASE).bottlings, [text]) == said
