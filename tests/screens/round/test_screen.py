"""The daily round by keyboard: what the keys record, and that nothing typed is ever lost."""

import json
from datetime import timedelta

import pytest
from screens.small_cellar import (
    NOW,
    SIZES,
    ago,
    batch,
    form,
    here,
    made,
    opened,
    played,
    recorded,
    shown,
    typed,
    usual,
    whole,
)

from mustwatch.ledger.drafts import draft
from mustwatch.ledger.store import Ledger, NotSaved
from mustwatch.screens.round.screen import RoundScreen


@pytest.fixture
def cellar(tmp_path):
    """Three batches, the sealed one a danger."""
    return made(tmp_path / "cellar", usual())


@pytest.fixture
def count(cellar):
    """How many events it holds at first."""
    return len(recorded(cellar, 0))


@pytest.mark.parametrize("size", SIZES)
def test_the_batch_in_danger_stands_first_with_what_was_found_and_what_to_do(cellar, size):
    """It is what the whole screen is for."""
    app = opened(cellar)

    async def play(pilot):
        rows = shown(app, "#batches").splitlines()
        assert rows[1].startswith(">!!danger sealed-1")
        detail = shown(app, "#detail")
        assert "sealed-while-alive" in detail and "1. " in detail
        assert "1 danger" in shown(app, "#top")
        texts = [detail]
        for _ in range(12):
            await pilot.press("pagedown")
            texts.append(shown(app, "#detail"))
        text = "\n".join([*texts, shown(app, "#course")])
        assert "tight-cap (SEALED)" in text and "course" in text and "pitched" in text

    played(app, play, size)


@pytest.mark.parametrize("size", SIZES)
def test_a_reading_is_typed_echoed_saved_and_the_cursor_goes_on(cellar, count, size):
    """The daily job: gravity, sample temperature, what the airlock does, and on to the next."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("r")
        await pilot.pause()
        await typed(pilot, "1.054")
        await pilot.press("tab", "tab")
        await typed(pilot, "26")
        await pilot.press("tab")
        await typed(pilot, "21")
        await pilot.press("tab", "b", "tab", "r", "tab")
        await typed(pilot, "smells of pear")
        echo = shown(app, "#echo")
        assert "read 1.054 at 26 °C -> 1.056" in " ".join(echo.split())
        assert recorded(cellar, count) == []
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert here(app) != "sealed-1"
        assert "saved sealed-1" in shown(app, "#says")
        assert form(app).focused_field == "gravity"

    played(app, play, size)
    read, seen = recorded(cellar, count)
    assert (read.kind, read.batch, read.at) == ("read", "sealed-1", NOW)
    assert (read.gravity.value, read.gravity.scale, read.gravity.sample_c, read.must_c) == (1.054, "sg", 26, 21)
    assert read.note == "smells of pear"
    assert (seen.kind, seen.airlock, seen.surface) == ("seen", "bubbling", "ring")


def test_enter_in_the_last_field_saves(cellar, count):
    """Eight times enter is the walk of those who know no other key."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("enter")
        await pilot.pause()
        await typed(pilot, "1042")
        await pilot.press(*["enter"] * 7)
        await typed(pilot, "yesterday 21:00")
        await pilot.press("enter")
        await pilot.pause()

    played(app, play)
    (read,) = recorded(cellar, count)
    assert read.gravity.value == 1.042
    assert read.at == (NOW - timedelta(days=1)).replace(hour=21, minute=0)


def test_a_whole_cellar_is_walked_with_one_key_a_batch(cellar, count):
    """Looked, all well: the commonest entry of all takes one key."""
    app = opened(cellar)

    async def play(pilot):
        for _ in range(3):
            await pilot.press("l")
            await pilot.pause()

    played(app, play)
    events = recorded(cellar, count)
    assert sorted(event.batch for event in events) == ["quiet-1", "quiet-2", "sealed-1"]
    assert all(event.kind == "seen" and event.signs == ("all well",) for event in events)


@pytest.mark.parametrize(
    ("key", "kind", "value"),
    [("s", "swirled", None), ("p", "cap_pushed", None), ("a", "aerated", None), ("b", "seen", "bubbling"),
     ("t", "seen", "still")],
)  # fmt: skip
def test_one_key_records_one_thing_and_stays(cellar, count, key, kind, value):
    """Several things are done to one batch: the cursor waits."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press(key)
        await pilot.pause()
        assert here(app) == "sealed-1"
        assert "saved sealed-1" in shown(app, "#says")

    played(app, play)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.batch) == (kind, "sealed-1")
    assert getattr(event, "airlock", None) == value


def test_an_ambiguous_number_is_asked_about_and_stays_typed(cellar, count):
    """A bare 12 could be Brix, Plato or a temperature: guessing would poison the ledger."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("r")
        await pilot.pause()
        await typed(pilot, "12")
        assert "gravity: 12: which is it?" in shown(app, "#echo")
        assert "!gravity" in whole(app)
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "not saved" in shown(app, "#says")
        assert here(app) == "sealed-1"
        assert form(app).query_one("#gravity").value == "12"
        await pilot.press("tab", "b")
        assert "12" in shown(app, "#echo") and "Bx" in shown(app, "#echo")
        await pilot.press("ctrl+s")
        await pilot.pause()

    played(app, play)
    (read,) = recorded(cellar, count)
    assert (read.gravity.value, read.gravity.scale) == (12, "brix")


def test_what_is_typed_stays_with_its_batch_when_one_moves_away(cellar, count):
    """A glance at another batch must not cost an entry."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("r")
        await pilot.pause()
        await typed(pilot, "1.05")
        await pilot.press("down")
        await pilot.pause()
        assert form(app).query_one("#gravity").value == ""
        await typed(pilot, "1.06")
        await pilot.press("up")
        await pilot.pause()
        assert form(app).query_one("#gravity").value == "1.05"
        assert "sealed-1 " in shown(app, "#batches")
        assert "+ primary" in shown(app, "#batches").splitlines()[1]

    played(app, play)
    assert recorded(cellar, count) == []


def test_unsaved_typing_is_offered_again_at_the_next_start(cellar, count, tmp_path):
    """A closed terminal or an empty battery loses nothing that was typed."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("n")
        await pilot.pause()
        await typed(pilot, "odd smell")
        await pilot.press("escape", "q")

    played(app, play)
    kept = tmp_path / "unsent.json"
    assert kept.stat().st_mode & 0o777 == 0o600
    assert json.loads(kept.read_text())[str(cellar)] == {"sealed-1": {"note": "odd smell"}}
    again = opened(cellar)

    async def look(pilot):
        assert "sealed-1" in shown(again, "#says")
        assert form(again).query_one("#note").value == "odd smell"
        await pilot.press("r", "ctrl+s")
        await pilot.pause()

    played(again, look)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.note) == ("noted", "odd smell")
    assert json.loads(kept.read_text()) == {}


def test_a_failed_save_says_so_and_keeps_what_was_typed(cellar, count, monkeypatch):
    """A full disk is no reason to type twice."""
    app = opened(cellar)

    def full(self, events, now):
        raise NotSaved("not saved: no space left on the device")

    async def play(pilot):
        await pilot.press("r")
        await pilot.pause()
        await typed(pilot, "1.05")
        monkeypatch.setattr(Ledger, "append", full)
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "!! not saved: no space left" in shown(app, "#says")
        assert form(app).query_one("#gravity").value == "1.05"
        assert here(app) == "sealed-1"

    played(app, play)
    assert recorded(cellar, count) == []


def test_a_save_is_on_disk_before_the_screen_says_so(cellar, monkeypatch):
    """The word saved is a promise."""
    app = opened(cellar)
    found = []
    say = RoundScreen.say

    def watched(self, text, role="", **more):
        if text.startswith("saved"):
            found.append(b'"swirled"' in b"".join(path.read_bytes() for path in (cellar / "events").iterdir()))
        say(self, text, role, **more)

    monkeypatch.setattr(RoundScreen, "say", watched)

    async def play(pilot):
        await pilot.press("s")
        await pilot.pause()

    played(app, play)
    assert found == [True]


def test_what_another_process_logs_shows_within_two_seconds(cellar):
    """The round stays open on a shelf while a phone logs over SSH."""
    app = opened(cellar)

    async def play(pilot):
        Ledger(cellar).append(
            [draft("read", ago(0.01), "quiet-1", gravity={"value": 1.031, "scale": "sg", "sample_c": 20})], NOW
        )
        await pilot.pause(1.9)
        assert "1.031" in shown(app, "#batches")
        assert here(app) == "sealed-1"

    played(app, play)


@pytest.mark.parametrize("settings", ["", f"pinned = {NOW.isoformat()}\n"])
def test_a_cellar_looked_back_at_refuses_to_save(tmp_path, settings):
    """Nothing can be added to the past."""
    cellar = made(tmp_path / "cellar", usual(), f"[cellar]\n{settings}")
    count = len(recorded(cellar, 0))
    app = opened(cellar, now=None if settings else NOW, clock=lambda: NOW + timedelta(days=100))

    async def play(pilot):
        assert "14 May 2026 18:30, read-only" in shown(app, "#top")
        await pilot.press("s")
        await pilot.pause()
        assert "not saved, read-only" in shown(app, "#says")
        await pilot.press("r")
        await pilot.pause()
        await typed(pilot, "1.05")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "read-only" in shown(app, "#says")
        assert form(app).query_one("#gravity").value == "1.05"

    played(app, play)
    assert recorded(cellar, count) == []


def test_hostile_names_and_notes_are_drawn_and_never_act(tmp_path):
    """A file from a friend may hold anything."""
    nasty = "[bold red]x[/] \x1b[2J\x1b]0;owned\x07 \u202eevil\u200b [link=file:///etc]"
    events = batch("nasty-1", 9, [1.100, 1.085, 1.070, 1.055], name=nasty)
    events.append(draft("noted", ago(0.5), "nasty-1", note=f"{nasty}\nsecond \x9b31m line"))
    events.append(draft("seen", ago(0.4), "nasty-1", smell=[nasty], signs=["\x1b[31m"]))
    cellar = made(tmp_path / "cellar", events, '[cellar]\nname = "a[/]b\\u001b[2J"\n')
    app = opened(cellar)

    async def play(pilot):
        texts = [whole(app)]
        for _ in range(8):
            await pilot.press("pagedown")
            await pilot.pause()
            texts.append(whole(app))
        await pilot.press("u")
        await pilot.pause()
        texts.append(whole(app))
        text = "\n".join(texts)
        assert "[bold red]x[/] <1b>[2J" in text
        assert not set(text) & {"\x1b", "\x07", "\x9b", "\u202e", "\u200b"}

    played(app, play)


def test_only_ascii_is_drawn_where_only_ascii_shows(cellar, monkeypatch):
    """A serial console shows the same facts."""
    monkeypatch.setenv("MUSTWATCH_ASCII", "1")
    app = opened(cellar)

    async def play(pilot):
        for keys in ((), ("pagedown",) * 3, ("pagedown",) * 3, ("c",), ("escape", "question_mark")):
            await pilot.press(*keys)
            await pilot.pause()
            assert whole(app).isascii(), whole(app)

    played(app, play)


def test_the_list_keeps_its_order_through_the_walk_and_is_ordered_anew_at_its_end(tmp_path):
    """Rows that jump under the cursor would make one skip a batch."""
    cellar = made(tmp_path / "cellar", [*usual(), *batch("open-1", 6, [1.090, 1.070, 1.060], closure=None)])
    app = opened(cellar)

    async def play(pilot):
        order = [row.split()[1] for row in shown(app, "#batches").replace(">", " ").splitlines()[1:5]]
        await pilot.press("c", "a")
        await pilot.pause()
        assert "airlock" in shown(app, "#says")
        walked = []
        for _ in order:
            walked.append(here(app))
            await pilot.press("l")
            await pilot.pause()
        assert len(set(walked)) == len(order)
        first = shown(app, "#batches").splitlines()[1]
        assert first.startswith(">") and "open-1" in first

    played(app, play)


def test_an_empty_cellar_says_how_to_begin(tmp_path):
    """The first start of all."""
    cellar = tmp_path / "cellar"
    Ledger.make(cellar, "")
    app = opened(cellar)

    async def play(pilot):
        assert "w, then b" in shown(app, "#batches")
        for key in ("l", "r", "u", "c", "h", "d", "e", "n", "pagedown", "right"):
            await pilot.press(key)
        await pilot.pause()

    played(app, play)


def test_trouble_in_the_ledger_is_said_and_the_rest_is_shown(cellar):
    """A damaged line hides no batch, and does not hide itself."""
    (cellar / "events" / "0123456789abcdef.jsonl").write_bytes(b'{"v":1,"id":\n')
    app = opened(cellar)

    async def play(pilot):
        assert "! ledger" in shown(app, "#top")
        assert "mustwatch verify" in shown(app, "#says")
        assert "sealed-1" in shown(app, "#batches")

    played(app, play)


@pytest.mark.parametrize("size", [(60, 20), (40, 12), (20, 6), (200, 50)])
def test_any_size_of_terminal_is_laid_out_and_none_breaks_it(cellar, count, size):
    """A phone over SSH, a split window, a wall screen."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("pagedown", "down", "s", "c", "escape", "question_mark", "escape", "r")
        await pilot.resize_terminal(80, 24)
        await pilot.pause(0.1)
        await pilot.press("escape")
        await pilot.pause()
        assert "sealed-1" in shown(app, "#batches")
        await pilot.resize_terminal(*size)
        await pilot.pause(0.1)
        assert "? all keys" in shown(app, "#foot")[: size[0]]

    played(app, play, size)
    assert [event.kind for event in recorded(cellar, count)] == ["swirled"]


def test_a_batch_begun_elsewhere_joins_the_list(cellar):
    """The list is the ledger's, not the start's."""
    app = opened(cellar)

    async def play(pilot):
        Ledger(cellar).append(batch("fresh-1", 3, [1.100, 1.090]), NOW)
        await pilot.pause(1.9)
        assert "fresh-1" in shown(app, "#batches")

    played(app, play)


def test_the_hint_names_the_parts_that_follow(cellar):
    """`84 more lines` says nothing; the name of what is below says whether to page."""
    app = opened(cellar)

    async def play(pilot):
        assert shown(app, "#detail").splitlines()[-1].endswith("PgDn: facts, why, course ..")
        for _ in range(12):
            await pilot.press("pagedown")
        assert "PgDn" not in shown(app, "#detail")

    played(app, play, (80, 24))


@pytest.mark.parametrize("size", [(120, 36), (200, 60)])
def test_a_roomy_screen_always_shows_the_course(cellar, size):
    """Whatever is read above it; a smaller one has it among the parts."""
    app = opened(cellar)

    async def play(pilot):
        assert "P pitched" in shown(app, "#course") and "o" in shown(app, "#course")
        assert "course" not in shown(app, "#detail").replace("PgDn", "")
        await pilot.press("j")
        await pilot.pause()
        assert "P pitched" in shown(app, "#course")
        await pilot.resize_terminal(80, 24)
        await pilot.pause()
        texts = []
        for _ in range(12):
            texts.append(shown(app, "#detail"))
            await pilot.press("pagedown")
        assert "P pitched" in "\n".join(texts)

    played(app, play, size)
