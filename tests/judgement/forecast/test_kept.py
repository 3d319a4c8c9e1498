"""What is kept of forecasts from one question to the next is little, however long a program runs."""

from datetime import UTC, datetime, timedelta

from screens.small_cellar import batch as story
from screens.small_cellar import numbered

from mustwatch.cellar.fold import fold
from mustwatch.judgement.forecast import outlook as forecast
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.settings import Settings


def test_of_a_batch_that_grows_only_its_newest_forecasts_are_kept():
    """A round that stays open for weeks would keep one for each entry."""
    now = datetime(2026, 5, 14, 18, 30, tzinfo=UTC)
    told = story("fir", 9, [1.100, 1.085, 1.070])
    for hours in range(5):
        told.append(draft("swirled", now - timedelta(hours=5 - hours), "fir"))
        one = fold(numbered(told), Settings(), now).batches["fir"]
        first = forecast.outlook(one, Settings(), now)
        assert forecast.outlook(one, Settings(), now) is first
    assert len(forecast._fans["fir"]) == len(forecast._outlooks["fir"]) == forecast.KEPT_OF_ONE
