"""Sheets as people write them, saved by LibreOffice in four locales: in right, or refused with line and reason."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from feeds.sheets.specimens import SPECIMENS, Specimen

from mustwatch.feeds.incoming import Incoming
from mustwatch.feeds.sheets import text, workbook
from mustwatch.feeds.sheets.grid import Table
from mustwatch.feeds.sheets.rows import from_sheets
from mustwatch.ledger.events import Noted

MADE = Path(__file__).parent / "made"
NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)


def read(one: Specimen) -> Incoming:
    """The file as `import` reads it; local time is UTC."""
    data = (MADE / one.file).read_bytes()
    table = Table(NOW, lambda at: at.replace(tzinfo=UTC), **one.told)
    kind = workbook.kind_of(data)
    if kind:
        pytest.importorskip({"xlsx": "openpyxl", "ods": "odfdo"}[kind])
        return from_sheets(workbook.sheets_of(data, kind), table)
    written, encoding = text.decoded(data)
    return from_sheets([text.sheet_of(written, table.names, (encoding,))], table)


def told(found: Incoming) -> list[tuple]:
    """The events as the rows of truth are written."""
    rows = []
    for _, event in found.events:
        seen = None if isinstance(event, Noted) else event.gravity
        scale = "" if seen is None or seen.scale == "sg" else f" {seen.scale}"
        gravity = "" if seen is None else f"{seen.value:g}{scale}"
        must = getattr(event, "must_c", None)
        rows.append((event.batch, f"{event.at:%Y-%m-%d %H:%M}", gravity, must, getattr(event, "ph", None), event.note))
    return rows


@pytest.mark.parametrize("one", SPECIMENS, ids=lambda one: one.file)
def test_a_sheet_comes_in_right_or_is_refused(one: Specimen):
    """Every row as the person meant it; nothing else, and nothing guessed."""
    if one.question:
        with pytest.raises(ValueError, match=one.question):
            read(one)
        return
    found = read(one)
    assert [(row.sheet, row.line) for row in found.bad] == [(sheet, line) for sheet, line, _ in one.refused]
    for row, (_, _, why) in zip(found.bad, one.refused, strict=True):
        assert why in row.why
    if not one.refused:
        assert told(found) == one.rows
        assert found.unused == one.unused


def test_there_are_thirty_and_three_languages():
    """The bar: thirty sheets, in English, German and French."""
    assert len(SPECIMENS) >= 30
    assert {one.locale[:2] for one in SPECIMENS} == {"en", "de", "fr"}
    assert all((MADE / one.file).exists() for one in SPECIMENS)
