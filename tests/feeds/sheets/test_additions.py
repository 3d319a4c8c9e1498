"""A column of what went in: each thing by its everyday name, with its mass where one was written."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from mustwatch.entry.when import in_zone
from mustwatch.feeds.incoming import Incoming
from mustwatch.feeds.sheets.additions import additions_of
from mustwatch.feeds.sheets.grid import Table
from mustwatch.feeds.sheets.known import sorted_out
from mustwatch.feeds.sheets.rows import from_sheets
from mustwatch.feeds.sheets.text import sheet_of
from mustwatch.ledger.codec import encode
from mustwatch.ledger.drafts import stamped
from mustwatch.ledger.events import Added, Noted, Read

NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)


def _rows(written: str) -> Incoming:
    table = Table(NOW, in_zone, {}, "fir", None, None, {}, False, {}, {})
    return from_sheets([sheet_of(written, {}, ("utf-8",), None)], table)


@pytest.mark.parametrize(
    ("cell", "told"),
    [
        ("5 g DAP", [("DAP", "nutrient", 5.0)]),
        ("k-meta 0.4g", [("k-meta", "sulfite", 0.4)]),
        ("2 g KMS; 3 g sorbate", [("KMS", "sulfite", 2.0), ("sorbate", "sorbate", 3.0)]),
        ("2 campden tablets", [("campden tablets", "sulfite", None)]),
        ("bicarb", [("bicarb", "carbonate", None)]),
        ("stirred well and looked at it for a while", []),
    ],
)
def test_a_cell_tells_what_went_in(cell: str, told: list[tuple[str, str, float | None]]) -> None:
    """Tablets have no mass until somebody weighs them; prose is no addition."""
    assert [(one["what"], one["category"], one.get("g")) for one in additions_of(cell)] == told


def test_a_row_gives_its_reading_and_its_additions() -> None:
    """One line of a diary is often both."""
    found = _rows("date,sg,added,note\n2026-05-01,1.080,5 g DAP,smells of pear\n2026-05-02,,1 g KMS,\n")
    assert not found.bad
    read, food, sulfite = (event for _, event in found.events)
    assert isinstance(read, Read) and read.note == "smells of pear"
    assert isinstance(food, Added) and (food.what, food.category, food.nitrogen_mg_per_g) == ("DAP", "nutrient", 212.1)
    assert isinstance(sulfite, Added) and sulfite.category == "sulfite" and len(found.sheets) == 3


def test_an_amount_that_is_no_mass_stays_in_words() -> None:
    """Nothing is lost and nothing is guessed."""
    ((_, event),) = _rows("date,added\n2026-05-01,2 campden tablets\n").events
    assert isinstance(event, Added) and event.g is None and event.note == "2 campden tablets"


def test_prose_in_the_column_is_a_note() -> None:
    """A row is never refused over it."""
    ((_, event),) = _rows("date,additions\n2026-05-01,nothing much today really\n").events
    assert isinstance(event, Noted) and event.note == "nothing much today really"


def test_a_sheet_brought_in_again_adds_nothing() -> None:
    """A dose counted twice would be twice the dose."""
    events = [event for _, event in _rows("date,sg,added\n2026-05-01,1.080,5 g DAP\n").events]
    lines = [encode(stamped(event, f"e{number}", number)) for number, event in enumerate(events, 1)]
    assert sorted_out(events, lines).new == ()
