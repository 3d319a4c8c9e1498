"""The colours of the screens: a dark and a light set of our own, and the terminal's own where neither is sure to fit.

Colour only repeats what words and signs say. All colours of our own are of the 256 that most terminals have, as xterm
fixed them, so that 24 bits and 8 show the same; tests/screens/test_colours.py reckons their contrast.
"""

from collections.abc import Mapping
from dataclasses import replace

from textual.theme import BUILTIN_THEMES, Theme

TERMINAL, DARK, LIGHT, AUTO = "terminal", "dark", "light", "auto"
CHOICES = (AUTO, DARK, LIGHT, TERMINAL)
DEFAULT = "ansi_default"  # the terminal's own letters on its own ground
LIGHT_ENOUGH = 0.4  # of the brightest: a background from here on wants dark letters
DARK_NUMBERS = frozenset({"0", "1", "2", "3", "4", "5", "6", "8"})  # of the sixteen, as COLORFGBG names them

# The terminal's own sixteen can be any colours at all, on any background: blue on black and yellow on white are common
# and cannot be read. There bold and reverse say what colours say elsewhere.
THEMES = (
    replace(BUILTIN_THEMES["ansi-dark"], name=TERMINAL, primary=DEFAULT, secondary=DEFAULT, accent=DEFAULT,
            warning=DEFAULT, error=DEFAULT, success=DEFAULT),
    Theme(DARK, primary="#87d7ff", secondary="#d7d787", accent="#87d7af", warning="#ffaf5f", error="#ff8787",
          success="#87d787", foreground="#e4e4e4", background="#121212", surface="#121212", panel="#121212"),
    Theme(LIGHT, primary="#005f87", secondary="#5f5f00", accent="#005f5f", warning="#875f00", error="#af0000",
          success="#005f00", foreground="#1c1c1c", background="#ffffff", surface="#ffffff", panel="#ffffff",
          dark=False),
)  # fmt: skip


def first_theme(asked: str, environ: Mapping[str, str]) -> tuple[str, bool]:
    """The set to begin with, and whether the terminal is to be asked for its background.

    asked: one of CHOICES, from the settings; $MUSTWATCH_COLOURS goes before it.

    >>> first_theme("auto", {"TERM": "linux"}), first_theme("auto", {"TERM": "xterm-256color"})
    (('terminal', False), ('terminal', True))
    >>> first_theme("auto", {"TERM": "rxvt-256color", "COLORFGBG": "0;15"})
    ('light', False)
    """
    named = environ.get("MUSTWATCH_COLOURS", "").lower()
    asked = named if named in CHOICES else asked
    if environ.get("NO_COLOR"):
        return TERMINAL, False
    if asked != AUTO:
        return asked, False
    if "256color" not in environ.get("TERM", "") and environ.get("COLORTERM") not in ("truecolor", "24bit"):
        return TERMINAL, False
    _, parted, ground = environ.get("COLORFGBG", "").rpartition(";")
    if parted:
        return (DARK if ground in DARK_NUMBERS else LIGHT), False
    return TERMINAL, True


def luminance(red: float, green: float, blue: float) -> float:
    """Relative luminance of a colour, 0 to 1; each part 0 to 1, in sRGB.

    >>> round(luminance(1, 1, 1), 3), round(luminance(0, 0, 1), 4)
    (1.0, 0.0722)

    Source: WCAG 2.2, definition of relative luminance.
    """
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in (red, green, blue)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def theme_on(red: float, green: float, blue: float) -> str:
    """The set for a background of that colour."""
    return LIGHT if luminance(red, green, blue) >= LIGHT_ENOUGH else DARK
