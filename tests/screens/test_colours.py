"""The sets of colours: every text can be read on its background, and the terminal's answer is understood."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from screens.small_cellar import made, opened, played, shown, usual

import mustwatch.screens
from mustwatch.screens.colours import AUTO, DARK, LIGHT, TERMINAL, THEMES, first_theme, luminance, theme_on
from mustwatch.screens.terminal.sieve import Background, Sieve

OURS = [theme for theme in THEMES if not theme.ansi]
TEXTS = ("primary", "secondary", "accent", "warning", "error", "success", "foreground")
GROUNDS = ("background", "surface", "panel")
CUBE = (0, 95, 135, 175, 215, 255)  # xterm's 6x6x6 colours (XTerm Control Sequences, 256colres.h: 0, then 55 + 40 n)


def parts(colour: str) -> tuple[int, int, int]:
    """Red, green and blue of #rrggbb."""
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def contrast(one: str, other: str) -> float:
    """WCAG 2.2: (lighter + 0.05) / (darker + 0.05)."""
    lights = sorted(luminance(*(part / 255 for part in parts(colour))) for colour in (one, other))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


def test_the_reckoning_of_contrast_is_that_of_the_standard():
    """WCAG 2.2: black on white is 21; #767676 on white is the lightest grey at 4.5 (4.54, commonly quoted)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("theme", OURS, ids=lambda theme: theme.name)
def test_every_text_and_mark_can_be_read(theme, text, ground):
    """At least 4.5 to 1 (WCAG 2.2, 1.4.3), reversed too; marks and lines, which need 3 (1.4.11), have the same."""
    assert contrast(getattr(theme, text), getattr(theme, ground)) >= 4.5


@pytest.mark.parametrize("theme", OURS, ids=lambda theme: theme.name)
def test_every_colour_is_one_of_the_256(theme):
    """So that a terminal with fewer than 24 bits shows the very same."""
    for name in (*TEXTS, *GROUNDS):
        red, green, blue = parts(getattr(theme, name))
        in_cube = all(part in CUBE for part in (red, green, blue))
        assert in_cube or (red == green == blue and (red - 8) % 10 == 0), name


def test_the_terminals_own_colours_are_never_mixed():
    """What its sixteen look like nobody knows: letters and ground are its own pair, bold and reverse the rest."""
    theme = next(theme for theme in THEMES if theme.ansi)
    assert {getattr(theme, name) for name in (*TEXTS, *GROUNDS)} == {"ansi_default"}


def test_nothing_is_drawn_dim_and_no_other_colour_is_named():
    """Dim letters fall below 4.5 on most terminals; a colour in a sheet would go round the test above."""
    for sheet in Path(mustwatch.screens.__file__).parent.rglob("*.tcss"):
        text = sheet.read_text("utf-8")
        assert not re.search(r"text-style:[^;]*\bdim\b", text), sheet
        colours = re.findall(r"(?<!-)\b(?:color|background):\s*([^;}]+)", text)
        assert all(re.fullmatch(r"\$[a-z-]+|transparent", colour.strip()) for colour in colours), (sheet, colours)


@pytest.mark.parametrize(
    ("asked", "environ", "first", "asks"),
    [
        (AUTO, {"TERM": "xterm-256color"}, TERMINAL, True),
        (AUTO, {"TERM": "xterm", "COLORTERM": "truecolor"}, TERMINAL, True),
        (AUTO, {"TERM": "xterm"}, TERMINAL, False),
        (AUTO, {"TERM": "xterm-256color", "COLORFGBG": "15;0"}, DARK, False),
        (AUTO, {"TERM": "xterm-256color", "COLORFGBG": "0;default;15"}, LIGHT, False),
        (DARK, {"TERM": "linux"}, DARK, False),
        (LIGHT, {"TERM": "xterm-256color", "MUSTWATCH_COLOURS": "dark"}, DARK, False),
        (LIGHT, {"TERM": "xterm-256color", "NO_COLOR": "1"}, TERMINAL, False),
    ],
)
def test_the_first_set_is_the_one_that_is_sure(asked, environ, first, asks):
    """By the settings, by the environment, else the terminal's own until it has answered."""
    assert first_theme(asked, environ) == (first, asks)


@pytest.mark.parametrize(
    ("answer", "theme"),
    [
        (b"\x1b]11;rgb:0000/0000/0000\x1b\\", DARK),
        (b"\x1b]11;rgb:ffff/ffff/ffff\x07", LIGHT),
        (b"\x1b]11;rgb:00/2b/36\x1b\\", DARK),
        (b"\x1b]11;rgb:fdfd/f6f6/e3e3\x1b\\", LIGHT),
    ],
)
def test_a_terminals_answer_is_its_background(answer, theme):
    """As xterm writes it (XTerm Control Sequences, OSC 11); of one to four digits a part, ended in either way."""
    (told,) = Sieve().feed(answer, 0.0)
    assert isinstance(told, Background)
    assert theme_on(told.red, told.green, told.blue) == theme


@pytest.mark.parametrize("answer", [b"\x1b]11;rgb:0/0\x07", b"\x1b]11;#000000\x07", b"\x1b]10;rgb:0/0/0\x07"])
def test_what_is_no_such_answer_means_nothing(answer):
    """Nor is any of it taken for letters."""
    assert Sieve().feed(answer, 0.0) == []


def test_an_answer_changes_the_colours_only_where_it_was_asked_for(tmp_path, monkeypatch):
    """Whoever chose a set keeps it."""
    from mustwatch.screens.terminal.driver import BackgroundTold

    monkeypatch.delenv("NO_COLOR", raising=False)
    for named, expected in (("auto", LIGHT), ("dark", DARK)):
        monkeypatch.setenv("MUSTWATCH_COLOURS", named)
        monkeypatch.setenv("TERM", "xterm-256color")
        monkeypatch.delenv("COLORFGBG", raising=False)
        app = opened(made(tmp_path / named, usual()))

        async def play(pilot, app=app, expected=expected):
            app.post_message(BackgroundTold(LIGHT))
            await pilot.pause()
            assert app.theme == expected
            assert "sealed-1" in shown(app, "#batches")

        played(app, play)
