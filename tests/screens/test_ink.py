"""Lines of text: wrapped by cells, safe, and never too wide."""

from hypothesis import given
from hypothesis import strategies as st
from screens.text import text_of

from mustwatch.ledger.visible import cells
from mustwatch.screens.ink import labelled, padded, wrapped


@given(st.text(max_size=200), st.integers(12, 60))
def test_no_text_makes_a_line_too_wide_or_unsafe(text, width):
    """Whatever a note holds, the pane's border stays where it is."""
    for line in wrapped(text, width):
        shown = "".join(piece for piece, _ in line)
        assert cells(shown) <= width
        assert "\x1b" not in shown and "\n" not in shown


@given(st.text(max_size=60), st.integers(4, 40))
def test_padded_text_fills_its_width_exactly(text, width):
    """Columns stay columns, wide letters or not."""
    assert cells(padded(text, width)) == width


def test_a_label_stands_beside_its_text_where_there_is_room():
    """And above it, as it were, where there is not."""
    wide = text_of(labelled("why", "word " * 30, 70)).splitlines()
    assert wide[0].startswith("why      word") and wide[1].startswith("         word")
    narrow = text_of(labelled("why", "word " * 30, 36)).splitlines()
    assert narrow[0].startswith("why: word") and narrow[1].startswith("  word")
