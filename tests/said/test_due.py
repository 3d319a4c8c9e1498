"""What falls due, in words."""

from __future__ import annotations

import pytest
from screens.small_cellar import NOW, batch, numbered

from mustwatch.cellar.fold import fold
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.settings import Settings
from mustwatch.said.due import BOTTLE, bottle_words
from mustwatch.said.standing import HIDDEN_POINTS


@pytest.mark.parametrize(("may_hold", "bottles"), [(HIDDEN_POINTS - 0.01, True), (HIDDEN_POINTS, False), (None, True)])
def test_what_may_hide_sugar_is_read_once_more_before_it_is_bottled(may_hold, bottles):
    """`Bottle it` beside `up to 9 points of sugar may still be there` would be a contradiction in glass."""
    resting = fold(numbered(batch("fir", 200, [1.100, 1.040, 0.998, 0.998])), Settings(), NOW).batches["fir"]
    verdict = Verdict("finished", may_hold=may_hold)
    assert (bottle_words(resting, verdict, NOW, Settings())[0] == BOTTLE) is bottles
