"""Which batches the round shows, and which is chosen, told without a screen."""

import pytest
from screens.round.desk import parts
from screens.small_cellar import made, usual


@pytest.fixture
def shown(tmp_path):
    """Three batches, the sealed one a danger."""
    return parts(made(tmp_path / "cellar", usual())).shown


def tags(shown) -> list[str]:
    """The tags in the order of the list."""
    return [row.tag for row in shown.rows]


def test_the_worst_comes_first_and_is_chosen(shown):
    """It is what one opens the round for."""
    assert tags(shown)[0] == shown.tag == "sealed-1" and shown.batch.tag == "sealed-1"


def test_the_cursor_stays_with_its_batch_when_the_rows_change(shown):
    """Whoever types must not find another batch under the cursor."""
    shown.move_to(2)
    chosen = shown.tag
    shown.words = chosen
    shown.arrange()
    assert (tags(shown), shown.tag, shown.cursor, shown.hidden) == ([chosen], chosen, 0, 2)
    shown.words = ""
    shown.arrange()
    assert (shown.tag, shown.cursor) == (chosen, 2)


def test_a_batch_that_is_typed_for_is_held_though_the_filter_hides_it(shown):
    """And let go as soon as nothing is typed there."""
    shown.words = "quiet-2"
    shown.arrange(hold=True)
    assert shown.tag == "sealed-1" and "quiet-2" in tags(shown)
    shown.arrange()
    assert tags(shown) == ["quiet-2"]


def test_the_cursor_stops_at_either_end(shown):
    """And tells whether it moved, so that nothing is drawn for nothing."""
    assert not shown.move_to(-1) and shown.cursor == 0
    assert shown.move_to(99) and shown.cursor == 2
    assert not shown.move_to(99)


def test_the_walk_goes_on_to_the_next_and_at_its_end_to_the_head_of_a_new_order(shown):
    """Nobody is sent past a batch, nor left at the end of the list."""
    shown.go_on()
    assert shown.cursor == 1
    shown.move_to(2)
    shown.go_on()
    assert (shown.cursor, shown.tag) == (0, "sealed-1")


def test_what_is_typed_marks_its_row_and_is_understood(shown):
    """A plus in the list, and words under the form."""
    assert shown.draft().empty
    assert shown.keep("sealed-1", {"gravity": "1.05"})
    assert not shown.keep("sealed-1", {"gravity": "1.050"})
    shown.arrange()
    assert [row.typed for row in shown.rows] == [True, False, False]
    assert "read 1.050" in shown.draft().understood[0]
    assert shown.keep("sealed-1", {}) and shown.drafts == {}


def test_an_empty_cellar_has_nothing_chosen(tmp_path):
    """And says how to begin; with a filter it says what nothing matches."""
    shown = parts(made(tmp_path / "cellar", [])).shown
    assert (shown.tag, shown.batch, shown.fields, shown.move_to(1)) == (None, None, {}, False)
    assert shown.empty == "no batch yet: w, then b, mixes the first"
    shown.words = "zzz"
    assert shown.empty == "nothing matches zzz"
