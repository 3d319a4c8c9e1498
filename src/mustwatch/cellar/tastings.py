"""What was thought of a batch when it was tasted."""

from collections.abc import Sequence

from mustwatch.ledger.events import Tasted


def last_score(tastings: Sequence[Tasted]) -> float | None:
    """The score of the last tasting that gave one, of 10; None where none did. Meads change: the last word counts."""
    return next((each.score_of_10 for each in reversed(tastings) if each.score_of_10 is not None), None)
