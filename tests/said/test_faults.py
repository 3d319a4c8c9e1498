"""Faults of the format, in words that people read."""

import pytest

from mustwatch.said.faults import plainly


@pytest.mark.parametrize(
    ("fault", "plain"),
    [
        ("volume_l: input should be greater than 0", "volume in litres must be more than 0"),
        ("gravity.value: input should be a valid number, unable to parse string as a number, got 'lots'",
         "value must be a number, got 'lots'"),
        ("ph: input should be less than or equal to 14", "ph must be at most 14"),
        ("gravty.value is nothing that a read holds; it has free_so2_mg_l",
         "gravty.value is nothing that a read holds; it has free_so2_mg_l"),
    ],
)  # fmt: skip
def test_a_fault_names_what_people_call_it(fault: str, plain: str) -> None:
    """Keys of the file are named only where it is about a key of the file."""
    assert plainly(fault) == plain
