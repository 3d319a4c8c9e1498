"""The page of keys."""

from mustwatch.screens.ink import Line, wrapped
from mustwatch.screens.paper import Paper
from mustwatch.screens.round.keys import (
    BENCH_KEYS,
    DEED_KEYS,
    ENTRY_EXAMPLES,
    FORM_KEYS,
    JUMP_KEYS,
    LIST_KEYS,
    SCREEN_KEYS,
)

SIGNS = (
    ("!! danger", "someone can be hurt: act now"),
    ("!  today", "act today"),
    ("~  watch", "keep an eye on it"),
    (".  note", "worth knowing"),
    ("z", "nothing asks for you; a finding is hushed"),
    ("no sign", "nothing was found; look all the same"),
    ("+ after a tag", "something is typed there and not saved"),
)


KEY_WIDTH = 16


def keys_lines(width: int) -> list[Line]:
    """The page, as lines at most `width` cells wide."""
    moves = [("up down", "the batch before and after; j and k too, home and end")]
    pages = [(shown, does) for _, _, shown, does in (*SCREEN_KEYS, *JUMP_KEYS)]
    parts = (
        ("In the list", [*moves, *((shown, does) for _, _, shown, does in LIST_KEYS)]),
        (
            "Everywhere",
            [*pages, ("? F1", "this page (F1 while typing)"), ("ctrl+c", "quit from anywhere; typing is kept")],
        ),
        ("In the reading form", FORM_KEYS),
        ("In the forms of y i m f g x", DEED_KEYS),
        ("At the calculators", BENCH_KEYS),
        ("Signs", SIGNS),
    )
    lines: list[Line] = []
    for title, pairs in parts:
        lines += [((title, "head"),)]
        lines += [more for left, right in pairs for more in _pair(left, right, width)]
        lines += [()]
    lines += wrapped("The note line takes the whole quick entry, as `mustwatch log` does", width, "head")
    for example in ENTRY_EXAMPLES:
        lines += wrapped(example, width, first="  ", rest="    ")
    return lines


def _pair(left: str, right: str, width: int) -> list[Line]:
    first, *rest = wrapped(right, width - KEY_WIDTH)
    return [((f"  {left:<14}", "strong"), *first), *(((" " * KEY_WIDTH, ""), *more) for more in rest)]


def keys_page() -> Paper:
    """The page, as a screen."""
    return Paper(keys_lines)
