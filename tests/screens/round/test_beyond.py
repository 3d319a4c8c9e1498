"""What falls due and the shelf, opened from the round by one key each."""

from __future__ import annotations

from datetime import timedelta

import pytest
from screens.round.desk import parts
from screens.small_cellar import NOW, SIZES, ago, batch, here, made, opened, played, recorded, shown, usual, whole
from screens.text import text_of

from mustwatch.ledger.drafts import draft
from mustwatch.screens.ahead import ahead_lines
from mustwatch.screens.shelf import NOTHING, shelf_lines

DONE = [1.090, 1.040, 1.010, 0.998, 0.998, 0.998]


def _bottled(tag: str) -> list:
    """A batch at rest for long, and bottled into two lots a day ago."""
    kinds = [
        {"size_ml": 750, "count": 4, "bottle": "still-wine", "closure": "cork"},
        {"size_ml": 330, "count": 6, "bottle": "beer", "closure": "crown-cap"},
    ]
    return [*batch(tag, 150, DONE), draft("bottled", ago(0.9), tag, lots=kinds, style="still")]


@pytest.fixture
def cellar(tmp_path):
    """Two batches in vessels, one sealed and a danger, one in bottles, and a note of pears."""
    events = [*usual(), *_bottled("shelf-1"), draft("noted", ago(2), "quiet-2", note="smells of Birne, pear")]
    return made(tmp_path / "cellar", events)


@pytest.mark.parametrize("size", [*SIZES, (50, 20)])
def test_a_opens_what_falls_due_and_escape_comes_back(cellar, size):
    """The danger stands first, under today."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("A")
        await pilot.pause()
        lines = [line.strip() for line in whole(app).splitlines() if line.strip()]
        assert lines[0] == "today" and "sealed-1" in lines[1] and lines[1].startswith("!!")
        await pilot.press("escape")
        await pilot.pause()
        assert here(app) is not None and "today" not in shown(app, "#says")

    played(app, play, size)


def test_what_the_page_tells_is_what_the_command_tells(cellar):
    """One reckoning, two skins."""
    from mustwatch.commands.ahead import as_text
    from mustwatch.rules.due import DAYS, due, living

    look = parts(cellar).look
    found = due(living(look.cellar), look.findings, DAYS)
    page = " ".join(text_of(ahead_lines(found, look.now, 200)).split())
    for one in found:
        assert f"{one.batch}: {one.what}" in page
    assert len(found) >= 4 and "later" in page and "later" in as_text(found, look.now, DAYS)


def test_nothing_due_is_a_page_too():
    """An empty screen would look broken."""
    assert "nothing falls due before" in text_of(ahead_lines([], NOW, 60))


@pytest.mark.parametrize("size", [*SIZES, (50, 20)])
def test_s_opens_the_shelf_and_g_takes_a_bottle_of_the_lot_chosen(cellar, size):
    """One key on the shelf, and the form knows the rest: one bottle, drunk."""
    app, before = opened(cellar), len(recorded(cellar, 0))

    async def play(pilot):
        await pilot.press("S")
        await pilot.pause()
        text = whole(app)
        assert "10 bottles in 2 lots" in text and "> lot 1" in text
        await pilot.press("down")
        await pilot.pause()
        assert "> lot 2" in whole(app) and "> lot 1" not in whole(app)
        await pilot.press("g")
        await pilot.pause()
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert here(app) == "shelf-1"

    played(app, play, size)
    (event,) = recorded(cellar, before)
    assert (event.kind, event.batch, event.count, event.why) == ("took", "shelf-1", 1, "drunk")


def test_the_shelf_of_a_cellar_without_bottles_says_so_and_g_does_nothing(tmp_path):
    """Nothing is chosen, and nothing is taken."""
    app = opened(made(tmp_path / "cellar", usual()))

    async def play(pilot):
        await pilot.press("S")
        await pilot.pause()
        assert NOTHING in whole(app)
        await pilot.press("down", "g")
        await pilot.pause()
        assert here(app) is not None

    played(app, play)


def test_a_lot_on_hold_says_why_and_not_when_to_drink(tmp_path):
    """A word that is seen before any other of its batch."""
    burst = draft("took", ago(0.5), "shelf-1", count=1, why="broken", burst=True)
    there = parts(made(tmp_path / "cellar", [*_bottled("shelf-1"), burst]))
    there.beyond.shelf()
    lots = there.desk.asked[-1][0].lots
    text = text_of(shelf_lines(lots, 0, there.look.now, 79)[0])
    assert "!! ON HOLD" in text and "bottle-burst" in text and "drinks well" not in text
    assert all(len(line) <= 79 for line in text.splitlines())


def test_coming_back_from_the_shelf_takes_a_filter_off_that_hides_the_batch(cellar):
    """The form must be that of the batch chosen on the shelf."""
    there = parts(cellar)
    there.shown.words = "sealed"
    there.shown.arrange()
    there.beyond.shelf()
    there.desk.answer("shelf-1")
    assert there.shown.tag == "shelf-1" and there.shown.words == ""


def test_the_filter_finds_what_was_written_too(cellar):
    """By words of a note, whatever their case and accents; a severity stays a severity."""
    there = parts(cellar)
    for words, tags in (("BIRNE", {"quiet-2"}), ("pear smells", {"quiet-2"}), ("sealed", {"sealed-1"}),
                        ("danger", {"sealed-1"}), ("unicorn", set())):  # fmt: skip
        there.shown.words = words
        there.shown.arrange()
        assert {row.tag for row in there.shown.rows} == tags, words
    there.shown.words = "later"
    there.shown.arrange()
    assert not there.shown.rows
    there.look.source.append(draft("noted", NOW + timedelta(minutes=1), "quiet-1", note="later words"))
    there.look.again()
    there.shown.arrange()
    assert {row.tag for row in there.shown.rows} == {"quiet-1"}
