"""Dialogs of the round: closures, hushing, taking back, rule pages, filtering, the calculators."""

from datetime import timedelta

import pytest
from rules.test_every_rule import MODULES, TOLD
from screens.small_cellar import ago, batch, form, here, made, opened, played, recorded, shown, typed, usual, whole
from screens.text import text_of

from mustwatch.ledger.drafts import draft
from mustwatch.rules.finding import Finding, Severity
from mustwatch.screens.ink import wrapped
from mustwatch.screens.paper import Paper
from mustwatch.screens.round.screen import RoundScreen

SIZES_OF_STEPS = ((80, 24), (60, 24))
FERMENTING = [1.100, 1.085, 1.070, 1.055]


@pytest.fixture
def cellar(tmp_path):
    """Three batches, the sealed one a danger."""
    return made(tmp_path / "cellar", usual())


@pytest.fixture
def count(cellar):
    """How many events it holds at first."""
    return len(recorded(cellar, 0))


def test_a_closure_is_recorded_and_the_danger_goes(cellar, count):
    """Airlock on: the finding clears at once."""
    app = opened(cellar)

    async def play(pilot):
        assert "1 danger" in shown(app, "#top")
        await pilot.press("c")
        await pilot.pause()
        assert "What closes sealed-1 now?" in whole(app)
        await pilot.press("a")
        await pilot.pause()
        assert "danger" not in shown(app, "#top")

    played(app, play)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.closure, event.batch) == ("closed", "airlock", "sealed-1")


def test_a_sealed_closure_shows_its_caution_before_it_is_taken(cellar, count):
    """The caution stands where the decision is made; the letter alone does not seal."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("down", "c", "s")
        await pilot.pause()
        assert "glass can burst" in " ".join(whole(app).split())
        assert recorded(cellar, count) == []
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "DANGER sealed-while-alive" in whole(app)
        assert recorded(cellar, count) == []
        await pilot.press("ctrl+s")
        await pilot.pause()

    played(app, play)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.closure, event.batch) == ("closed", "solid-bung", "quiet-1")


def test_escape_leaves_a_dialog_with_nothing_done(cellar, count):
    """Every question can be left."""
    app = opened(cellar)

    async def play(pilot):
        for key in ("c", "u", "h", "slash", "e", "question_mark", "d", "y", "i", "m", "f", "x"):
            await pilot.press(key)
            await pilot.pause()
            await pilot.press("escape")
            await pilot.pause()
            assert isinstance(app.screen, RoundScreen)

    played(app, play)
    assert recorded(cellar, count) == []


def test_a_danger_can_be_hushed_for_a_day_at_most_and_stays_in_sight(cellar, count):
    """A hush must never hide what can hurt."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("h")
        await pilot.pause()
        text = whole(app)
        if "Hush which one?" in text:
            await pilot.press("1")
            await pilot.pause()
            text = whole(app)
        assert "24 hours" in text and "a week" not in text
        await pilot.press("enter")
        await pilot.pause()
        assert "1 danger" in shown(app, "#top")

    played(app, play)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.rule) == ("hushed", "sealed-while-alive")
    assert event.until - event.at == timedelta(hours=24)


def test_another_finding_is_hushed_until_a_date_typed(tmp_path):
    """Dates are checked before anything is saved, and mean what they mean to `mustwatch hush`."""
    cellar = made(tmp_path / "cellar", batch("open-1", 9, FERMENTING, closure=None))
    count = len(recorded(cellar, 0))
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("h")
        await pilot.pause()
        if "Hush which one?" in whole(app):
            await pilot.press("1")
            await pilot.pause()
        await pilot.press("d")
        await pilot.pause()
        entry = app.screen.query_one("#answer")
        for text, asks in (("soon", "is no day I know"), ("2020-01-01", "is past")):
            entry.value = text
            await pilot.press("enter")
            await pilot.pause()
            assert asks in whole(app)
        entry.value = "2026-06-01"
        await pilot.press("enter")
        await pilot.pause()

    played(app, play)
    (event,) = recorded(cellar, count)
    assert (event.kind, event.until.isoformat()) == ("hushed", "2026-06-01T12:00:00+02:00")


def test_taking_back_names_the_entry_and_asks_first(cellar, count):
    """Wet fingers press the wrong key; the wrong undo would be worse."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("s")
        await pilot.pause()
        await pilot.press("u")
        await pilot.pause()
        text = whole(app)
        assert "Take back this entry of sealed-1?" in text and "swirled" in text
        await pilot.press("enter")
        await pilot.pause()
        assert len(recorded(cellar, count)) == 1
        await pilot.press("u", "y")
        await pilot.pause()
        assert "taken back: swirled" in shown(app, "#says")

    played(app, play)
    swirled, withdrew = recorded(cellar, count)
    assert (withdrew.kind, withdrew.target) == ("withdrew", swirled.id)


def test_what_was_saved_together_is_taken_back_together(cellar, count):
    """One visit is one entry to its maker."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("n")
        await pilot.pause()
        await typed(pilot, "swirled bubbling pH3.6")
        await pilot.press("ctrl+s")
        await pilot.pause()
        await pilot.press("escape", "home", "u", "y")
        await pilot.pause()

    played(app, play)
    events = recorded(cellar, count)
    assert [event.kind for event in events] == ["read", "seen", "swirled", "withdrew", "withdrew", "withdrew"]
    assert {event.target for event in events[3:]} == {event.id for event in events[:3]}


def test_the_page_of_the_findings_rule_opens(cellar):
    """Why is one key away."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("e")
        await pilot.pause()
        if not isinstance(app.screen, Paper):
            await pilot.press("1")
            await pilot.pause()
        assert "sealed-while-alive" in whole(app)
        await pilot.press("pagedown", "escape")

    played(app, play)


def test_doing_what_is_advised_opens_the_form_for_it(cellar, monkeypatch):
    """d goes from the words to the deed."""
    app = opened(cellar)

    def finding(action):
        return Finding(
            "some-rule", "sealed-1", Severity.TODAY, "says", "why", ("first do this",), "clears", action=action
        )

    async def play(pilot):
        look = app.screen.look
        for action, seen in (
            (("close", "blow-off"), "closed with blow-off"),
            (("add", "sulfite"), "added sulfite, amount NOT KNOWN"),
            (("pitch", ""), "pitch sealed-1: the yeast goes in"),
            (("rack", ""), "racked into jug 5 L"),
            (("bottle", ""), "bottle sealed-1: into bottles"),
            (("take", "tested"), "take sealed-1: bottles leave the shelf"),
        ):
            monkeypatch.setattr(type(look), "found", lambda self, tag, action=action: (finding(action),))
            await pilot.press("d")
            await pilot.pause()
            assert seen in " ".join(whole(app).split())
            await pilot.press("escape")
            await pilot.pause()
            assert isinstance(app.screen, RoundScreen)
        monkeypatch.setattr(type(look), "found", lambda self, tag: (finding(("log", "swirled")),))
        await pilot.press("d")
        await pilot.pause()
        assert form(app).query_one("#note").value == "swirled"
        assert form(app).focused_field == "note"

    played(app, play)


@pytest.mark.parametrize("size", SIZES_OF_STEPS)
def test_the_steps_of_every_danger_fit_the_screen_whole(size):
    """What is said gives way where a question is too long for the screen: a safety step never may."""
    wide, high = size
    told = {finding.do for _, story in TOLD for finding in story.found(MODULES[story.rule]) if finding.severity == 3}
    assert len(told) > 8
    for steps in told:
        lines = sum(len(wrapped(f"1. {step}", wide - 8)) for step in steps)
        assert lines + 4 <= high - 4, steps


def test_the_list_can_be_filtered_and_ended_batches_shown(tmp_path):
    """Thirty batches do not fit."""
    events = [*usual(), *batch("old-1", 90, FERMENTING), draft("ended", ago(0), "old-1", outcome="drunk")]
    app = opened(made(tmp_path / "cellar", events))

    async def play(pilot):
        assert "old-1" not in shown(app, "#batches")
        await pilot.press("v")
        await pilot.pause()
        assert "old-1" in shown(app, "#batches")
        await pilot.press("slash")
        await pilot.pause()
        await typed(pilot, "quiet-2")
        await pilot.press("enter")
        await pilot.pause()
        assert here(app) == "quiet-2"
        assert "sealed-1" not in shown(app, "#batches")

    played(app, play)


def test_the_keys_page_names_every_key(cellar):
    """No key is secret."""
    from mustwatch.screens.help import keys_lines
    from mustwatch.screens.round.keys import LIST_KEYS

    text = text_of(keys_lines(120))
    assert all(does in text for _, _, _, does in LIST_KEYS)
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("question_mark")
        await pilot.pause()
        assert "In the list" in whole(app)

    played(app, play)


def test_every_action_a_rule_names_has_a_form_or_the_line_of_quick_entry():
    """A finding must not point at a door that is not there."""
    import re
    from pathlib import Path

    import mustwatch.rules
    from mustwatch.deeds.catalogue import DEEDS

    folder = Path(mustwatch.rules.__file__).parent
    texts = (path.read_text(encoding="utf-8") for path in folder.rglob("*.py"))
    named = {name for text in texts for name in re.findall(r'action=\("([a-z-]+)"', text)}
    assert named
    assert named <= {*DEEDS, "log"}


def test_the_calculators_know_the_cellars_own_settings(tmp_path):
    """A hydrometer made for 15.56 degrees must not be asked for again."""
    pytest.importorskip("mustwatch.screens.bench.screen")
    from mustwatch.calculators.form import house_of

    cellar = made(tmp_path / "cellar", usual(), '[cellar]\nhydrometer_c = 15.56\ngallon = "imperial"\n')
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("equals_sign")
        await pilot.pause()
        settings = app.screen_stack[0].look.settings
        assert app.screen.house == house_of(settings) != house_of(None)

    played(app, play)


def test_the_calculators_open_and_close(cellar):
    """The bench is one key away, and back."""
    pytest.importorskip("mustwatch.screens.bench.screen")
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("equals_sign")
        await pilot.pause()
        assert not isinstance(app.screen, RoundScreen)
        await pilot.press("escape")
        await pilot.pause()
        if not isinstance(app.screen, RoundScreen):
            await pilot.press("escape")
            await pilot.pause()
        assert isinstance(app.screen, RoundScreen)

    played(app, play)
