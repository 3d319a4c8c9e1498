"""What a batch lies in: how much air over it makes sulfite useless."""

from __future__ import annotations

import pytest
from rules.scenario import story

from mustwatch.rules.evidence.vessel import fill_first, sulfite_form, too_much_air


@pytest.mark.parametrize(("litres", "much"), [(4.7, False), (4.69, True)])
def test_more_than_six_per_cent_of_air_is_too_much(litres: float, much: bool):
    """Of five litres that is 0.3; the same limit as the rule on ageing under air."""
    view = story(f"    day 0 mixed 5l jug 6l\n    day 0 pitched ale\n    day 30 racked {litres}l jug 5l").view()
    assert too_much_air(view) is much
    assert bool(fill_first(view)) is much and (sulfite_form(view) == ("add", "sulfite")) is not much


def test_air_nobody_wrote_down_is_not_guessed():
    """A quality rule asks nothing of what it does not know."""
    assert not too_much_air(story("    day 0 mixed 5l jug\n    day 0 pitched ale").view())
