"""The batch list: the order of need, and rows that fit."""

from datetime import timedelta

from screens.small_cellar import NOW, ago

from mustwatch.ledger.visible import cells
from mustwatch.screens.round.rows import Row, drawn, kept_order, matching, need, shortened


def row(tag, severity=None, looked=1.0, stage="primary", **keys):
    """A row with the words its severity has."""
    sign, word = {None: ("  ", "quiet"), 0: (". ", "note"), 2: ("! ", "today"), 3: ("!!", "danger")}[severity]
    return Row(tag, tag, severity, sign, word, stage, "1.042", ago(looked), stage == "ended", **keys)


def test_the_worst_comes_first_then_the_longest_not_looked_at():
    """Need, not alphabet."""
    rows = [row("a"), row("b", looked=9), row("c", 2), row("d", 3), row("e", 3, looked=5), row("f", 0)]
    assert [one.tag for one in sorted(rows, key=need)] == ["e", "d", "c", "f", "b", "a"]


def test_quiet_bottles_come_after_quiet_vessels_and_ended_ones_last():
    """Bottles need no daily look; a finding about them still goes first."""
    rows = [row("end", stage="ended", looked=900), row("rack", looked=300, stage="bottled"), row("jug"),
            row("sweet", 3, stage="bottled")]  # fmt: skip
    assert [one.tag for one in sorted(rows, key=need)] == ["sweet", "jug", "rack", "end"]


def test_a_kept_order_takes_new_batches_in_where_need_puts_them():
    """A batch begun on another machine joins the walk without disturbing it."""
    rows = [row("a"), row("b", 3), row("new", 2)]
    assert [one.tag for one in kept_order(rows, ["b", "a"])] == ["b", "new", "a"]
    assert [one.tag for one in kept_order(rows, ["a", "b"])] == ["new", "a", "b"]


def test_words_and_endings_filter_the_rows():
    """By tag, name, stage or severity."""
    rows = [row("heather-1", 3), row("heather-2", stage="ended"), row("cider")]
    assert [one.tag for one in matching(rows, "HEATHER", False)] == ["heather-1"]
    assert [one.tag for one in matching(rows, "heather", True)] == ["heather-1", "heather-2"]
    assert [one.tag for one in matching(rows, "danger", True)] == ["heather-1"]


def test_a_row_fills_its_width_and_says_its_need_in_a_word():
    """Colour is no information."""
    for width in (41, 49):
        line = drawn(row("blackberry-and-apple-12", 3, typed=True), width, NOW)
        text = "".join(piece for piece, _ in line)
        assert cells(text) == width
        assert text.startswith("!!danger ")
        assert "-12+" in text


def test_a_long_tag_keeps_the_end_that_tells_it_from_its_sisters():
    """blackberry-11 and blackberry-12 must not look alike."""
    assert shortened("blackberry-wine-11", 12) == "blackbe~e-11"
    assert shortened("short", 12) == "short       "


def test_time_since_a_look_is_short():
    """Four cells are enough."""
    assert "".join(text for text, _ in drawn(row("a", looked=400), 41, NOW)).endswith(" 57w")
    never = Row("a", "a", None, "  ", "quiet", "planned", "-", None, False)
    assert "".join(text for text, _ in drawn(never, 41, NOW + timedelta(days=1))).endswith("    -")
