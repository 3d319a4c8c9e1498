"""Nothing from a file or a person can act on a terminal or hide on it."""

import csv
import io
import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.ledger.visible import cell_safe, cells, plain_json, plain_line, visible, visible_lines

RAW = re.compile(
    "[\x00-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\u3164\ufeff\ufff9-\ufffb]"
    "|[\U000e0000-\U000e0fff]|[\ud800-\udfff]"
)
anything = st.text(st.characters(codec=None, exclude_categories=()), max_size=60)


@given(anything)
def test_no_text_keeps_an_unseen_or_acting_character(text):
    """Whatever the input, the output has no control, format, surrogate or tag character."""
    shown = visible(text)
    assert not RAW.search(shown)
    shown.encode("utf-8")


@given(anything)
def test_text_is_never_drawn_as_nothing(text):
    """A name made of invisible characters must not look like an empty row."""
    assert not text.strip() or visible(text).strip()


@given(anything, st.integers(0, 40))
def test_clipped_text_fits_its_cells(text, limit):
    """A limit counts terminal cells, wide characters twice."""
    assert cells(visible(text, limit=limit)) <= limit


@given(anything)
def test_json_for_a_terminal_is_plain_and_lossless(text):
    """Escaping is for the terminal's sake alone: the reader gets the same string back."""
    plain = plain_json({"note": text})
    assert plain.isascii() and plain.isprintable()
    assert json.loads(plain) == {"note": text}
    stored = json.dumps({"note": text}, ensure_ascii=False).encode("utf-8", "surrogatepass")
    try:
        line = plain_line(stored)
    except UnicodeDecodeError:
        return
    assert line.isprintable() and json.loads(line) == {"note": text}


def test_escapes_are_drawn_not_dropped():
    """The reader sees that something was there."""
    assert visible("\x1b[1A\x1b[2KSealed: OK") == "<1b>[1A<1b>[2KSealed: OK"
    assert visible("\u009d0;title\u009c") == "<9d>0;title<9c>"
    assert visible("good\rEVIL\nx\ty") == "good<0d>EVIL<0a>x<09>y"
    assert visible("tag \U000e0041") == "tag <e0041>"


def test_names_that_look_alike_are_told_apart():
    """Zero-width characters inside a name show."""
    three = {visible(name) for name in ("bat\u200bch-1", "bat\u2060ch-1", "batch-1")}
    assert len(three) == 3


def test_stacks_of_marks_are_capped_and_a_leading_mark_gets_a_carrier():
    """Marks may not climb over the rows above nor combine with a border."""
    assert visible("z" + "\u0335" * 60) == "z" + "\u0335" * 4 + "<+56 marks>"
    assert visible("\u0301a").startswith("\u25cc\u0301")


def test_an_ordinary_note_is_left_alone():
    """Accents, other scripts, emoji and brackets stay as they are."""
    for text in ("smells of pear", "café Łódź", "משהו", "漢字😀", "[bold red]x[/] $var %s"):
        assert visible(text) == text


def test_notes_of_several_lines_split_only_at_line_feeds():
    """NEL, LS and friends do not make a row."""
    assert visible_lines("a\nb\x85c\u2028d") == ["a", "b<85>c<2028>d"]


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-2+3", "@SUM(A1)", "\t=1+1", "\r=1+1", "\n=1", "\uff1d1+1", " =1", "'=1", '"=1']
)
def test_no_csv_cell_is_a_formula(text):
    """Led by an apostrophe, and it stays one field of one row."""
    out = io.StringIO()
    csv.writer(out).writerow([cell_safe(text), "next"])
    rows = list(csv.reader(io.StringIO(out.getvalue())))
    assert len(rows) == 1 and len(rows[0]) == 2
    assert rows[0][0].startswith("'")


def test_two_megabytes_are_clipped_quickly():
    """A limit is applied before the work."""
    assert visible("L" * 2_000_000, limit=20) == "L" * 17 + "..."
    assert len(visible("\x1b" * 2_000_000, limit=20)) <= 20
