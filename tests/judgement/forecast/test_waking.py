"""What was read before yeast or another must went in says nothing of how it rests."""

from __future__ import annotations

from rules.scenario import story


def judged(*lines: str) -> str | None:
    """The state of a story told in these lines."""
    return story("".join(f"    {line}\n" for line in lines)).view().verdict.state


def test_a_must_that_waited_for_its_yeast_is_not_at_rest():
    """Two equal readings from before the pitching say nothing of what the yeast does."""
    assert judged("day 0 read 1.100", "day 14 read 1.100", "day 14 10:00 pitched ale", "now day 15") not in (
        "stable",
        "finished",
    )


def test_a_must_mixed_again_is_not_finished():
    """What was at rest before holds sugar again."""
    old = ("day 0 mixed 5l jug 6l honey 1.2kg", "day 0 09:10 read 1.080", "day 0 09:30 pitched ale")
    rest = ("day 30 read 0.998", "day 45 read 0.998")
    assert judged(*old, *rest, "now day 61") == "finished"
    assert judged(*old, *rest, "day 60 mixed 5l jug 6l honey 1.2kg", "now day 61") != "finished"
