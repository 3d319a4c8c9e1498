"""Every screen speaks through one door: `Pane.drawn` for what is shown, `EntryInput` for what is typed into."""

import ast
from pathlib import Path

import pytest
from ledger.hostile_strings import HOSTILE
from ledger.test_hostile import ACTING
from rich.cells import cell_len
from screens.small_cellar import made, opened, played, usual
from textual.containers import Container, Horizontal, Vertical
from textual.events import Paste
from textual.screen import Screen
from textual.strip import Strip

import mustwatch
from mustwatch.screens.inputs import EntryInput, sign_for_sign
from mustwatch.screens.pane import Pane

SCREENS = Path(mustwatch.__file__).parent / "screens"
FILES = sorted(SCREENS.rglob("*.py"))
DOORS = {"pane.py", "inputs.py"}
# What draws nothing of its own but lays out, and what textual puts over every screen and is never given a text.
LAYOUT = (Screen, Container, Horizontal, Vertical)
UPSTREAM = {"ToastRack", "Tooltip"}


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(SCREENS)))
def test_no_screen_goes_round_the_door(path):
    """No widget of the library's own, no text of rich's, no message of its own making."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module:
            names = {one.name for one in node.names}
            if path.name not in DOORS:
                assert node.module.split(".")[0] != "rich" and "Widget" not in names - {"Widget"} | set()
            if node.module == "textual.widgets":
                assert names == {"Input"}
        if isinstance(node, ast.ClassDef):
            bases = {base.id for base in node.bases if isinstance(base, ast.Name)}
            assert not bases & {"Widget", "Input", "Static", "Label"} or path.name in DOORS
        if isinstance(node, ast.Call):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            assert name not in {"notify", "Input", "Segment", "Strip", "Text", "Static", "Label"} or path.name in DOORS
            assert not {one.arg for one in node.keywords} & {"tooltip", "markup", "message", "placeholder"}
        if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store):
            assert node.attr not in {"border_title", "border_subtitle", "tooltip", "sub_title"}


@pytest.mark.parametrize("keys", ["", "r", "y", "i", "m", "f", "x", "c", "/", "?", "=", "e", "d", "h"])
def test_every_widget_of_every_screen_is_one_of_the_two(tmp_path, keys):
    """A widget that takes a text by itself takes it as it is."""
    app = opened(made(tmp_path / "cellar", usual()))

    async def play(pilot):
        for key in keys:
            await pilot.press({"/": "slash", "?": "question_mark", "=": "equals_sign"}.get(key, key))
            await pilot.pause()
        widgets = list(app.screen.walk_children(with_self=True))
        assert len(widgets) > 2
        for one in widgets:
            known = isinstance(one, Pane | EntryInput) or type(one).__name__ in UPSTREAM
            assert known or (isinstance(one, LAYOUT) and type(one).render_line is LAYOUT[0].render_line), type(one)

    played(app, play)


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_both_doors_hold(tmp_path, text):
    """A pane that is given a text as it is, and a field that is filled with it."""
    app = opened(made(tmp_path / "cellar", usual()))

    async def play(pilot):
        says = app.screen.query_one("#says", Pane)
        says.show([((text, ""), (text, "danger"))])
        entry = next(iter(app.screen.query(EntryInput)))
        entry.value = entry.placeholder = text
        drawn = [says.render_line(0), entry.render_line(0)]
        entry.value = ""
        drawn.append(entry.render_line(0))
        for strip in drawn:
            assert isinstance(strip, Strip) and not ACTING.search(strip.text) and "\n" not in strip.text

    played(app, play)


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_a_field_draws_a_sign_for_each_sign(text):
    """So that the cursor stands where it stands in what was typed."""
    shown = sign_for_sign(text, "?")
    assert len(shown) == len(text) and not ACTING.search(shown) and "\n" not in shown
    assert cell_len(shown) >= sum(1 for sign in shown if sign.isascii())


def test_what_is_pasted_keeps_its_words_and_loses_its_controls(tmp_path):
    """One line, whole; the cursor can be put into the middle of it."""
    app = opened(made(tmp_path / "cellar", usual()))

    async def play(pilot):
        await pilot.press("n")
        await pilot.pause()
        app.post_message(Paste("two\nlines\x1b[31m \x0e\x9b\u202eok\u0301"))
        await pilot.pause(0.1)
        entry = app.focused
        assert isinstance(entry, EntryInput)
        assert entry.value == "two lines [31m \u202eok\u0301"
        assert entry._value.plain == "two lines [31m \ufffdok\u0301"
        assert [entry._position_to_cell(place) for place in (0, 15, 16, 19)] == [0, 15, 16, 18]
        assert [entry._cell_offset_to_index(cell) for cell in (0, 15, 16, 40)] == [0, 15, 16, 19]

    played(app, play)
