"""What probes show now: fresh values as they are, old ones by their age."""

from datetime import UTC, datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.settings import Settings
from mustwatch.said.live import Live, live_words

NOW = datetime(2026, 5, 14, 12, tzinfo=UTC)
FIR = Batch(tag="fir", revision="", story=(), place="cellar")


def said(*values: Live, **own) -> str:
    return live_words(values, FIR, Settings(**own), NOW)


def test_a_fresh_value_is_said_as_it_is():
    """Of the must, of the room's air, of a float; in the cellar's own unit."""
    at = NOW - timedelta(minutes=2)
    assert said(Live("shelf", at, 20.4, batch="fir")) == "must 20.4 °C now"
    assert said(Live("north", at, 14.0, place="cellar")) == "air 14 °C now"
    assert said(Live("float", at, 20.4, 1.0421, batch="fir")) == "must 20.4 °C and 1.042 now"
    assert said(Live("shelf", at, 20.0, batch="fir"), temperature="F") == "must 68 °F now"


def test_a_silent_or_unwell_probe_is_said_with_its_age_and_without_its_value():
    """An old value looks like a calm cellar."""
    old = NOW - timedelta(hours=3)
    assert said(Live("shelf", old, 20.4, batch="fir")) == "probe shelf silent for 3 hours"
    assert said(Live("shelf", old, 20.4, batch="fir", state="lost")) == "probe shelf lost and silent for 3 hours"
    assert said(Live("shelf", NOW, 20.4, batch="fir", state="stuck")) == "probe shelf stuck"
    assert said(Live("shelf", None, batch="fir")) == "probe shelf not heard yet"


def test_only_its_own_probes_are_said():
    """Another batch's, another room's are not."""
    assert said(Live("a", NOW, 20.4, batch="oak"), Live("b", NOW, 14.0, place="attic")) == ""
