"""Rooms nobody measured: reckoned by their name, at the small end."""

from __future__ import annotations

import pytest

from mustwatch.rules.catalogue.gas_in_the_room import size_by_name


@pytest.mark.parametrize(
    ("place", "size"),
    [
        ("cupboard", 3.0), ("under the stairs", 3.0), ("wine cabinet", 3.0), ("cabin", 10.0), ("chest freezer", 0.5),
        ("cellar", 15.0), ("Basement shelf", 15.0), ("pantry", 6.0), ("hall", 20.0), (None, 20.0),
    ],
)  # fmt: skip
def test_a_room_of_unknown_size_is_taken_for_a_small_one_of_its_kind(place: str | None, size: float):
    """A cupboard was taken for twenty cubic metres."""
    assert size_by_name(place) == size
