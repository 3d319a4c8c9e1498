"""Typing ahead of a slow machine: every key lands where it was meant to."""

from screens.small_cellar import form, made, opened, played, recorded, usual, whole
from textual.events import Key, Paste


def thrown(app, *names):
    """Posts keys all at once, as a terminal does that was blocked for a while."""
    for name in names:
        app.post_message(Key(name, name if len(name) == 1 else None))


def test_a_whole_entry_typed_at_once_lands_in_its_fields(tmp_path):
    """Gravity, tab, tab, temperature, save: one burst."""
    cellar = made(tmp_path / "cellar", usual())
    count = len(recorded(cellar, 0))
    app = opened(cellar)

    async def play(pilot):
        point = Key("full_stop", ".")
        thrown(app, "r", "1")
        app.post_message(point)
        thrown(app, "0", "3", "9", "tab", "tab", "2", "4", "tab", "tab", "b", "tab", "tab")
        app.post_message(Paste("smells of pear\nand bread"))
        thrown(app, "ctrl+s")
        thrown(app, "1", "0", "5", "0", "ctrl+s", "escape", "s")
        for _ in range(40):
            await pilot.pause(0.05)
            if len(recorded(cellar, count)) == 4:
                break

    played(app, play)
    first, seen, second, swirled = recorded(cellar, count)
    assert (first.batch, first.gravity.value, first.gravity.sample_c) == ("sealed-1", 1.039, 24)
    assert first.note == "smells of pear and bread"
    assert (seen.airlock, second.gravity.value, swirled.kind) == ("bubbling", 1.05, "swirled")
    assert second.batch != "sealed-1" and swirled.batch not in ("sealed-1", second.batch)


def test_keys_pressed_before_the_first_frame_are_not_lost(tmp_path):
    """An impatient user opens the form at once."""
    app = opened(made(tmp_path / "cellar", usual()))
    app.call_later(thrown, app, "r", "1", "0", "4", "2")

    async def play(pilot):
        for _ in range(40):
            await pilot.pause(0.05)
            if form(app).query_one("#gravity").value == "1042":
                break
        assert form(app).query_one("#gravity").value == "1042", whole(app)

    played(app, play)


def test_questions_answered_before_they_are_drawn_are_answered_all_the_same(tmp_path):
    """Closure, airlock, take it back, yes: four keys of an old hand."""
    cellar = made(tmp_path / "cellar", usual())
    count = len(recorded(cellar, 0))
    app = opened(cellar)

    async def play(pilot):
        thrown(app, "c", "a", "u", "y", "c", "b")
        for _ in range(40):
            await pilot.pause(0.05)
            if len(recorded(cellar, count)) == 3:
                break

    played(app, play)
    closed, withdrew, again = recorded(cellar, count)
    assert (closed.closure, withdrew.target, again.closure) == ("airlock", closed.id, "blow-off")
