"""The batch list: the order of need, and rows that fit."""

from datetime import timedelta

from screens.small_cellar import NOW, ago

from mustwatch.ledger.visible import cells
from mustwatch.screens.round.rows import Row, drawn, heading, kept_order, matching, need, shortened


def row(tag, severity=None, looked=1.0, read=2.0, stage="primary", **keys):
    """A row with the words its severity has."""
    sign, word = {None: ("  ", ""), 0: (". ", "note"), 2: ("! ", "today"), 3: ("!!", "danger")}[severity]
    return Row(tag, tag, severity, sign, word, stage, "1.042", ago(read), ago(looked), stage == "ended", **keys)


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
        assert "-12+ primary" in text


def test_a_long_tag_keeps_the_end_that_tells_it_from_its_sisters():
    """blackberry-11 and blackberry-12 must not look alike."""
    assert shortened("blackberry-wine-11", 12) == "blackb..e-11"
    assert shortened("short", 12) == "short       "


def test_a_gravity_stands_beside_its_own_age():
    """A look yesterday makes no reading of last year new; when it was looked at has a column of its own, with room."""
    old = row("a", read=400, looked=1)
    assert "".join(text for text, _ in drawn(old, 41, NOW)).endswith("1.042 57w")
    assert "".join(text for text, _ in drawn(old, 49, NOW)).endswith("1.042 57w  24h")
    never = Row("a", "a", None, "  ", "", "planned", "-", None, None, False)
    assert "".join(text for text, _ in drawn(never, 41, NOW + timedelta(days=1))).endswith("    -   -")


def test_the_heading_stands_over_its_columns():
    """At both widths."""
    for width in (41, 49):
        head = "".join(text for text, _ in heading(width))
        line = "".join(text for text, _ in drawn(row("lime"), width, NOW))
        assert len(head) == width + 1
        assert head[1:].index("batch") == line.index("lime") and head[1:].index("stage") == line.index("primary")
        assert head[1:].index("read") + 4 == line.index("1.042") + 9


def test_a_batch_without_a_finding_has_nothing_in_its_first_column():
    """`quiet` there read as a silent airlock."""
    assert "".join(text for text, _ in drawn(row("lime"), 41, NOW)).startswith(" " * 9 + "lime")
