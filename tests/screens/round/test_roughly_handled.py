"""The round on small terminals and under rough handling: what is needed stays in sight, and nothing shown is untrue."""

from types import SimpleNamespace

import pytest
from screens.small_cellar import NOW, ago, form, here, made, opened, played, recorded, shown, typed, usual, whole
from screens.text import text_of

from mustwatch.ledger.drafts import draft
from mustwatch.ledger.store import Ledger
from mustwatch.rules.finding import Severity
from mustwatch.screens.round.screen import RoundScreen
from mustwatch.screens.round.top import top_line

SMALL = ((60, 20), (40, 15))
COUNTS = {Severity.DANGER: 2, Severity.TODAY: 15, Severity.WATCH: 1, Severity.NOTE: 3}


@pytest.fixture
def cellar(tmp_path):
    """Three batches, the sealed one a danger."""
    return made(tmp_path / "cellar", usual())


def top(width, *, trouble="", is_past=False):
    """The top line on a terminal so wide."""
    found = [SimpleNamespace(severity=one, asleep=False) for one, count in COUNTS.items() for _ in range(count)]
    settings, source = SimpleNamespace(name="Under the stairs"), SimpleNamespace(read_only="pinned" * is_past)
    look = SimpleNamespace(now=NOW, settings=settings, findings=found, trouble=trouble, ails="ledger", source=source)
    text = text_of([top_line(look, width)])
    assert len(text) <= width
    return text


def test_the_top_line_gives_way_word_by_word_and_never_in_the_middle_of_one():
    """A half hour or half a count says something else than it means."""
    assert top(80).endswith("as of 14 May 2026 18:30")
    assert top(80, trouble="one").endswith("3 note       14 May 18:30") and "! ledger" in top(80, trouble="one")
    assert top(60).startswith(" Under the stairs") and top(60).endswith("3 note   18:30")
    assert top(40).split() == ["2", "danger", "15", "today", "1", "watch", "3", "note", "18:30"]
    assert top(24, trouble="one").split() == ["!", "ledger", "2", "danger"]
    assert top(60, is_past=True).endswith("read-only")


@pytest.mark.parametrize("size", SMALL)
def test_the_field_one_types_in_is_in_sight_on_a_small_terminal(cellar, size):
    """On a narrow terminal the row of fields moves with the cursor."""
    app = opened(cellar)

    async def play(pilot):
        for name, text in (("must", "21"), ("airlock", "b"), ("note", "hm"), ("when", "now")):
            form(app).focus_field(name)
            await pilot.pause()
            await typed(pilot, text)
            await pilot.pause()
            region = app.focused.region
            assert region.width >= 5 and region.right <= size[0], (name, region)
            assert {"b": "bubbling"}.get(text, text) in whole(app), name

    played(app, play, size)


@pytest.mark.parametrize("size", SMALL)
def test_the_way_out_of_the_form_stays_on_the_foot_of_a_small_terminal(cellar, size):
    """Save, leave and all keys are what one looks for."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("enter")
        await pilot.pause()
        foot = shown(app, "#foot")
        assert "ctrl+s save" in foot and "esc list" in foot and "F1 keys" in foot

    played(app, play, size)


@pytest.mark.parametrize("size", [(80, 24), *SMALL])
def test_the_caution_of_a_sealed_closure_is_in_sight_where_it_is_picked(cellar, size):
    """It is read before enter is pressed, on any terminal."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("c", "t")
        await pilot.pause()
        text = " ".join(whole(app).replace("│", " ").split())
        assert "> t tight-cap (sealed)" in text
        assert "!! Sealed: no gas gets out." in text and "fit an airlock now." in text
        assert "escape leaves it" in text

    played(app, play, size)


def test_a_cellar_whose_files_are_gone_is_not_shown_as_empty(cellar):
    """A folder that is not mounted must not read as `nothing found`; what is typed stays, and can be saved later."""
    app, away = opened(cellar), cellar.with_name("away")
    count = len(recorded(cellar, 0))

    async def play(pilot):
        await pilot.press("enter")
        await typed(pilot, "1.05")
        cellar.rename(away)
        await pilot.pause(1.3)
        text = whole(app)
        assert "! ledger" in text and "1 danger" in text and "nothing found" not in text
        assert "cellar files gone" in shown(app, "#says")
        await typed(pilot, "1")
        assert "gravity[1.051" in whole(app)
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "not saved" in shown(app, "#says") and "gravity[1.051" in whole(app)
        away.rename(cellar)
        await pilot.pause(1.3)
        assert "! ledger" not in whole(app)
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert shown(app, "#says").strip().startswith("saved ")

    played(app, play)
    assert [event.gravity.value for event in recorded(cellar, count)] == [1.051]


def test_a_refusal_goes_once_something_else_is_typed(cellar):
    """`not saved` about what is no longer there would be untrue; that a batch was saved stays said on the next one."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("enter")
        await typed(pilot, "1.2x")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "not saved: gravity" in shown(app, "#says")
        await pilot.press("backspace", "backspace")
        await typed(pilot, "05")
        assert shown(app, "#says") == ""
        await pilot.press("ctrl+l")
        await typed(pilot, "1.050")
        await pilot.press("ctrl+s")
        await pilot.pause()
        await typed(pilot, "1")
        assert shown(app, "#says").strip().startswith("saved sealed-1")

    played(app, play)


def test_every_key_on_an_empty_cellar_says_that_there_is_no_batch(tmp_path):
    """A key that does nothing and says nothing looks like a program that hangs."""
    app = opened(made(tmp_path / "cellar", []))

    async def play(pilot):
        for key in ("enter", "n", "c", "l", "s", "y", "i", "m", "f", "x"):
            app.screen.say("")
            await pilot.press(key)
            await pilot.pause()
            assert isinstance(app.screen, RoundScreen)
            assert "there is no batch here" in shown(app, "#says"), key

    played(app, play)


def test_the_line_for_the_filter_says_how_to_leave_it(cellar):
    """Escape is not known to everybody."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("slash")
        await pilot.pause()
        assert "escape leaves it" in whole(app)

    played(app, play, (40, 15))


@pytest.mark.parametrize("size", [(80, 24), (40, 15)])
def test_a_filter_that_hides_batches_says_so_as_long_as_it_does(cellar, size):
    """A danger that is filtered away must not be taken for gone."""
    app = opened(cellar)

    async def filtered(pilot, words):
        await pilot.press("slash", "ctrl+u")
        await typed(pilot, words)
        await pilot.press("enter")
        await pilot.pause()
        return shown(app, "#batches")

    async def play(pilot):
        assert "hidden" not in shown(app, "#batches")
        assert "1 hidden, / shows only: quiet" in await filtered(pilot, "quiet-")
        assert ">" in shown(app, "#batches")
        assert "3 hidden, / shows only: zzz" in await filtered(pilot, "zzz")
        assert "hidden" not in await filtered(pilot, "")

    played(app, play, size)


def test_a_time_that_is_not_understood_is_answered_as_it_was_typed(cellar):
    """The field for the time wants no sign before it."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("enter")
        await typed(pilot, "1.05")
        form(app).focus_field("when")
        await typed(pilot, "soon")
        said = shown(app, "#echo")
        assert "when: soon is no time I know; write yesterday 21:00" in said and "@" not in said

    played(app, play)


def test_a_batch_that_ends_elsewhere_keeps_the_typing_that_was_begun_for_it(cellar):
    """The next key must not land in another batch, nor what was typed go out of sight."""
    app = opened(cellar)
    count = len(recorded(cellar, 0))

    async def play(pilot):
        tag = here(app)
        await pilot.press("enter")
        await typed(pilot, "1.05")
        Ledger(cellar).append([draft("ended", ago(0.01), tag, outcome="drunk")], NOW)
        await pilot.pause(1.3)
        await typed(pilot, "2")
        assert here(app) == tag and "gravity[1.052" in whole(app)
        await pilot.press("escape", "j", "o")
        await pilot.pause()
        assert f"{tag}     + ended" in shown(app, "#batches")
        assert recorded(cellar, count)[0].kind == "ended" and len(recorded(cellar, count)) == 1

    played(app, play)


def test_a_batch_that_no_longer_matches_stays_while_one_types_for_it(cellar):
    """A filter hides nothing from under the hands."""
    app = opened(cellar)

    async def play(pilot):
        await pilot.press("slash")
        await typed(pilot, "danger")
        await pilot.press("enter", "enter")
        await pilot.pause()
        tag = here(app)
        Ledger(cellar).append([draft("closed", ago(0.01), tag, closure="airlock")], NOW)
        await pilot.pause(1.3)
        assert here(app) == tag
        await pilot.press("escape")
        app.screen.draw()
        assert here(app) is None

    played(app, play)
