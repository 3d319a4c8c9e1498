"""CSV that any sheet reads alike, and that none takes for a formula."""

from __future__ import annotations

import csv
import io
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.feeds.table import cell, table, unescaped

# What sheets take for the beginning of a formula; the list of a well-known guide on such injections, from memory.
DANGEROUS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "\u00a0=1", "\uff1d1", '"=1', "'=1"]


@pytest.mark.parametrize("text", DANGEROUS, ids=range(len(DANGEROUS)))
def test_no_text_begins_like_a_formula(text: str) -> None:
    """The apostrophe tells a sheet that it is text."""
    assert cell(text).startswith("'")


@pytest.mark.parametrize(
    ("number", "shown"), [(-0.5, "-0.5"), (-3, "-3"), (1.042, "1.042"), (0.1 + 0.2, "0.3"), (-0.0, "0")]
)
def test_numbers_stay_numbers(number: float, shown: str) -> None:
    """A frost of minus half a degree is no formula."""
    assert cell(number) == shown


@given(st.text(max_size=30))
def test_what_was_led_by_an_apostrophe_comes_back_as_it_was(text: str) -> None:
    """Whatever of it can be shown: signs that act are drawn for good."""
    drawn = "\n".join(cell(line).removeprefix("'") if cell(line) != line else line for line in text.split("\n"))
    if drawn == text and "\n" not in text:
        assert unescaped(cell(text)) == text


def test_a_field_is_quoted_as_the_standard_says() -> None:
    """RFC 4180: lines end in CR LF; commas, quotes and line feeds stand in quotes; a quote is doubled."""
    text = table(("a", "b"), [{"a": 'so "dry", it is', "b": "two\nlines"}, {"b": None}])
    assert text == 'a,b\r\n"so ""dry"", it is","two\nlines"\r\n,\r\n'
    assert list(csv.reader(io.StringIO(text, newline=""), strict=True))[1] == ['so "dry", it is', "two\nlines"]


def test_times_are_of_one_form_and_signs_that_act_are_drawn() -> None:
    """RFC 3339 with its offset; ESC is five plain signs."""
    assert cell(datetime(2026, 5, 1, 9, tzinfo=UTC)) == "2026-05-01T09:00:00+00:00"
    assert cell("a\x1b[2J\nb\u202e") == "a<1b>[2J\nb<202e>"
