"""Facts in words: nothing invented, nothing stale, what is missing named, in the scale of the cellar."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from mustwatch.cellar.fold import Cellar, fold
from mustwatch.deeds.ground import Ground
from mustwatch.deeds.quick_entry import parse_words
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from mustwatch.ledger.settings import Settings
from mustwatch.said.standing import standing
from mustwatch.said.telling import reading_words, told

T0 = datetime(2026, 3, 1, 8, tzinfo=UTC)
NOW = T0 + timedelta(days=100)
FAHRENHEIT = Settings(temperature="F")
MIXED = (0, "mixed", {"name": "x", "volume_l": 18.9271, "vessel": {"kind": "bucket", "capacity_l": 24.6052}})
START = (0.1, "read", {"gravity": {"value": 1.100, "sample_c": 23.89}})
PITCHED = (0.2, "pitched", {"yeast": {"label": "packet", "class": "unknown"}})
BOTTLED = (60, "bottled", {"lots": [{"size_ml": 750, "count": 6}]})


def _event(place: int, day: float, kind: str, keys: dict) -> Event:
    return stamped(draft(kind, T0 + timedelta(days=day), "fir", **keys), f"id-{place}", place + 1)


def _batch(*happenings: tuple):
    return fold([_event(place, *one) for place, one in enumerate(happenings)], Settings(), NOW).batches["fir"]


def _lines(*happenings: tuple, settings: Settings | None = None) -> dict[str, str]:
    return dict(standing(_batch(*happenings), Verdict(None), NOW, settings or Settings()))


@pytest.mark.parametrize(
    ("happenings", "reason"),
    [
        ([MIXED], "never read"),
        ([MIXED, START], "no reading since the start"),
        ([PITCHED, (30, "read", {"gravity": {"value": 1.010}})], "no start gravity"),
    ],
)
def test_unknown_alcohol_names_the_missing_fact(happenings: list, reason: str) -> None:
    """`Not known` alone leaves one wondering what to do about it."""
    assert reason in _lines(*happenings)["alcohol"]


def test_more_alcohol_than_the_yeast_can_bear_is_doubted() -> None:
    """An addition typed in twice gave 23 % vol, calmly told."""
    honey = (5, "added", {"what": "honey", "category": "honey", "g": 4000})
    ale = (0.2, "pitched", {"yeast": {"label": "y", "class": "ale"}})
    said = _lines(MIXED, START, ale, honey, (60, "read", {"gravity": {"value": 1.000, "sample_c": 20}}))["alcohol"]
    assert "what was added" in said


def test_a_yeast_of_no_known_class_is_said_to_be_so() -> None:
    """Eight to twenty-one per cent is no tolerance, it is a missing fact."""
    assert "not recorded" in _lines(MIXED, PITCHED)["yeast"]


def test_a_bottled_batch_is_in_bottles_and_no_more_in_its_jug() -> None:
    """The jug may hold the next batch by now."""
    assert _lines(MIXED, PITCHED, BOTTLED)["vessel"] == "in bottles"


def test_volumes_are_said_as_they_can_be_measured() -> None:
    """A bucket of 6.5 US gallons is no 24.6052 litres to anybody."""
    assert _lines(MIXED)["vessel"].startswith("18.9 L in bucket 24.6 L")


def test_temperatures_come_in_the_cellars_scale() -> None:
    """Who reads Fahrenheit typed 75F and wants to see 75."""
    batch = _batch(MIXED, START, (1, "read", {"must_c": 25.56}))
    assert dict(standing(batch, Verdict(None), NOW, FAHRENHEIT))["warmth"].startswith("must 78 °F")
    assert "at 75 °F" in reading_words(batch.readings[0], FAHRENHEIT)
    assert "must 78 °F" in told(batch.story[-1], FAHRENHEIT)
    assert "at 75 °F" in parse_words(["1.094", "75F"], Ground("fir", Cellar(NOW, FAHRENHEIT), NOW)).understood[0]
    assert "at 23.9 °C" in parse_words(["1.094", "75F"], Ground("fir", Cellar(NOW, Settings()), NOW)).understood[0]


def test_a_reading_without_temperature_is_not_shown_as_corrected() -> None:
    """`1.010 -> 1.0100` claimed a correction that was never made."""
    batch = _batch(PITCHED, (30, "read", {"gravity": {"value": 1.010}}))
    assert reading_words(batch.readings[0]) == "1.010, not corrected: no sample temperature"


def test_a_reading_corrected_by_the_musts_warmth_says_so() -> None:
    """What was assumed is named."""
    batch = _batch(PITCHED, (30, "read", {"gravity": {"value": 1.010}, "must_c": 25}))
    assert "at the must's 25 °C" in reading_words(batch.readings[0])


def test_an_impossible_figure_is_not_given_a_gravity() -> None:
    """A ledger may hold 99 Brix; nobody is told of a gravity of 99."""
    batch = _batch(PITCHED, (30, "read", {"gravity": {"value": 99, "scale": "brix"}}))
    assert "->" not in reading_words(batch.readings[0]) and "NOT USED" in reading_words(batch.readings[0])


def test_bottles_of_no_known_kind_are_not_called_other() -> None:
    """And the closure that was not recorded is named."""
    said = told(_event(0, *BOTTLED))
    assert "other" not in said and "closure not recorded" in said


def test_a_trace_of_alcohol_is_not_printed_as_a_figure() -> None:
    """`About 0.0 %` is no sentence, and the readings do not tell more."""
    said = _lines(MIXED, START, PITCHED, (1, "read", {"gravity": {"value": 1.099, "sample_c": 23.89}}))["alcohol"]
    assert said == "less than half a per cent so far"


def test_a_move_tells_the_warmth_it_was_moved_into() -> None:
    """Bottles carried into warmth are the reason to write it down."""
    assert told(_event(0, 1, "moved", {"place": "attic", "air_c": 30})) == "moved to attic, air 30 °C"


def test_a_swing_top_is_named_once() -> None:
    """It is bottle and closure in one."""
    lots = [{"size_ml": 750, "count": 6, "bottle": "swing-top", "closure": "swing-top"}]
    assert told(_event(0, 1, "bottled", {"lots": lots})) == "bottled 6 x 750 ml swing-top"
