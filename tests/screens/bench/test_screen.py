"""The bench on the screen, driven by keys at 80x24 and 120x36."""

import asyncio

import pytest
from screens.text import text_of
from textual.app import App
from textual.events import Paste

from mustwatch.calculators.catalogue import NAMES, calculation
from mustwatch.screens.bench.calc_list import CalcList
from mustwatch.screens.bench.screen import BenchScreen

SIZES = [(80, 24), (120, 36)]
SIGNS = {" ": "space", ".": "full_stop", ",": "comma", "[": "left_square_bracket", "]": "right_square_bracket"}


class Bench(App[None]):
    """The bench alone."""

    CSS = "Pane { height: 1; width: 100%; }"
    ascii_only = False

    def __init__(self, settings=None) -> None:
        super().__init__()
        self.settings = settings

    def on_mount(self) -> None:
        self.push_screen(BenchScreen(self.settings))


def screen_lines(app):
    strips = app.screen._compositor.render_strips()
    return ["".join(segment.text for segment in strip) for strip in strips]


def keys(text):
    return [SIGNS.get(sign, sign) for sign in text]


def played(*presses, size=(80, 24), settings=None):
    """What the screen shows after the keys, as (lines of the screen, text of the result)."""

    async def play():
        app = Bench(settings)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            for press in presses:
                await pilot.press(*press)
            await pilot.pause()
            if not isinstance(app.screen, BenchScreen):
                return [], ""
            return screen_lines(app), text_of(app.screen.query_one("#bench-result").lines)

    return asyncio.run(play())


DOWN_TO = {name: ["down"] * number for number, name in enumerate(NAMES)}


@pytest.mark.parametrize("size", SIZES)
def test_every_calculation_has_its_form(size):
    """Its list row, its purpose and all its labels are to be seen at once."""

    async def play():
        app = Bench()
        shown = {}
        async with app.run_test(size=size) as pilot:
            for name in NAMES:
                await pilot.pause()
                shown[name] = screen_lines(app)
                await pilot.press("down")
        return shown

    for name, lines in asyncio.run(play()).items():
        text = "\n".join(lines)
        assert f">{name}" in text and calculation(name).purpose in text
        assert all(field.label in text for field in calculation(name).fields)
        assert all(len(line) <= size[0] for line in lines)


@pytest.mark.parametrize("size", SIZES)
def test_the_result_lives_with_the_typing(size):
    lines, result = played(DOWN_TO["honey"], ["enter"], keys("5 US gal"), ["tab"], keys("1.100"), size=size)
    assert "5.97 kg" in result
    assert any("5.97 kg" in line for line in lines)
    assert any("! Make it up" in line for line in lines)


def test_half_typed_is_asked_about_and_never_crashes():
    _, result = played(DOWN_TO["honey"], ["enter"], keys("5"))
    assert "volume" in result


def test_what_is_still_wanting_is_named_by_its_label():
    _, result = played(DOWN_TO["strength"], ["enter"], keys("1.1"))
    assert result.splitlines()[0] == "wants Gravity now"


def test_a_danger_stands_above_the_number():
    typed = (["enter"], keys("4L"), ["tab"], keys("200ml"), ["tab"], keys("25C"), ["tab"], keys("1.010"))
    lines, result = played(DOWN_TO["pressure"], *typed)
    assert result.splitlines()[0].startswith("! DANGER")
    assert any("DANGER" in line for line in lines)


def test_what_was_typed_stays_with_its_form():
    """One looks something up in another form and comes back."""
    _, result = played(
        DOWN_TO["strength"], ["enter"], keys("1.100"), ["tab"], keys("1.000"), ["escape"], ["down"], ["up"]
    )
    assert "about 13.5 % vol" in result


def test_ctrl_n_empties_the_form():
    _, result = played(DOWN_TO["strength"], ["enter"], keys("1.100"), ["tab"], keys("1.000"), ["ctrl+n"])
    assert result.startswith("wants Start gravity")


def test_arrows_lead_through_the_form():
    """Down goes to the row below, enter to the next field."""
    _, result = played(DOWN_TO["strength"], ["enter"], keys("1.100"), ["enter"], keys("1.000"))
    assert "about 13.5 % vol" in result


def test_escape_goes_back_to_the_list_and_then_away():
    lines, _ = played(["enter"], ["escape"])
    assert any("esc round" in line for line in lines)
    assert played(["enter"], ["escape"], ["escape"]) == ([], "")


def test_the_result_scrolls():
    typed = (DOWN_TO["sulfite"], ["enter"], keys("4L"), ["tab"], keys("3.5"))
    before, _ = played(*typed)
    after, _ = played(*typed, ["pagedown"])
    assert before != after
    assert any("more lines: PgDn" in line for line in before)


def test_markup_typed_is_shown_and_not_obeyed():
    lines, result = played(["enter"], keys("[b]"))
    assert "[b]" in result
    assert any("[b]" in line for line in lines)


def test_the_cellars_gallon_counts():
    class Settings:
        gallon = "imperial"

    _, result = played(["enter"], keys("1 gal"), settings=Settings())
    assert "4.546 L" in result


def test_the_cursor_stays_within_the_list():
    async def play():
        app = Bench()
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("up", "home", "end", "down")
            return app.screen.query_one(CalcList).chosen

    assert asyncio.run(play()) == "bottles"


@pytest.mark.parametrize("size", [(60, 20), (40, 15)])
def test_a_small_terminal_leaves_room_to_type_and_names_the_way_back(size):
    """One field a line; what is typed can be read."""
    lines, _ = played(["down"], ["enter"], keys("1.050"), size=size)
    assert any("Reading" in text and "1.050" in text for text in lines)
    assert lines[-1].rstrip().endswith("esc list")
    lines, _ = played(["down"], size=size)
    assert lines[-1].rstrip().endswith("esc round")


def test_the_form_is_emptied_by_the_same_key_as_all_others():
    """One key for one thing."""
    _, result = played(["enter"], keys("1.050"), ["ctrl+l"])
    assert result.startswith("wants Value")


def test_a_pasted_text_of_several_lines_is_kept_whole():
    """As in every other field."""

    async def play():
        app = Bench()
        async with app.run_test() as pilot:
            await pilot.press("enter")
            app.post_message(Paste("1.050\n1.060"))
            await pilot.pause()
            return app.focused.value, app.focused.cursor_blink

    assert asyncio.run(play()) == ("1.050 1.060", False)
