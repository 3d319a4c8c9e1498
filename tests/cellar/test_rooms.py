"""The air of a room, told by a probe, is the air of what stands in it, while it stands there."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from mustwatch.cellar.fold import fold
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.settings import Settings

BEGAN = datetime(2026, 3, 1, 9, tzinfo=UTC)


def day(number: float) -> datetime:
    return BEGAN + timedelta(days=number)


def air(number: float, celsius: float, place: str = "cellar"):
    return draft("read", day(number), None, air_c=celsius, place=place, probe="north")


def folded(*events, before=None):
    told = [stamped(event, f"id-{n:03}", n) for n, event in enumerate(sorted(events, key=lambda event: event.at))]
    return fold(told, Settings(), day(30), before)


def celsius(cellar, tag: str = "fir") -> list[float]:
    return [temperature.celsius for temperature in cellar.batches[tag].temperatures]


def test_a_batch_has_the_air_of_where_it_stands():
    """From its arrival to its leaving; another room's air is not its own."""
    cellar = folded(
        draft("mixed", day(0), "fir"), draft("moved", day(2), "fir", place="cellar"),
        draft("moved", day(6), "fir", place="kitchen"),
        air(1, 11), air(3, 13), air(5, 14), air(7, 17), air(8, 22, "kitchen"), draft("mixed", day(0), "oak"),
    )  # fmt: skip
    assert celsius(cellar) == [13, 14, 22] and celsius(cellar, "oak") == []
    assert all(temperature.of_air for temperature in cellar.batches["fir"].temperatures)


def test_the_musts_own_warmth_goes_before_the_rooms():
    """Within half a day of it the air says nothing new."""
    cellar = folded(
        draft("mixed", day(0), "fir"), draft("moved", day(0), "fir", place="cellar"),
        draft("read", day(3), "fir", must_c=21), air(3.2, 15), air(4, 14),
    )  # fmt: skip
    assert celsius(cellar) == [21, 14]


def test_a_new_value_of_the_room_is_a_new_state_of_the_batch():
    """What is kept from look to look must notice it."""
    events = [draft("mixed", day(0), "fir"), draft("moved", day(0), "fir", place="cellar"), air(1, 12)]
    first = folded(*events)
    assert folded(*events, before=first).batches["fir"] is first.batches["fir"]
    second = folded(*events, air(2, 9), before=first)
    assert celsius(second) == [12, 9] and second.batches["fir"].revision != first.batches["fir"].revision


def test_a_rooms_values_are_no_part_of_the_story():
    """Nobody looked at the batch."""
    cellar = folded(draft("mixed", day(0), "fir"), draft("moved", day(0), "fir", place="cellar"), air(5, 12))
    assert len(cellar.batches["fir"].story) == 2 and cellar.batches["fir"].last_looked == day(0)
