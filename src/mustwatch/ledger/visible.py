"""Text made safe to show: what cannot be seen is drawn, what could act is inert.

A character that is invisible, or that could act on a terminal, is drawn as its code point in hex
between angle brackets: ESC as <1b>, a right-to-left override as <202e>, a zero-width space as <200b>.
"""

import json
import re
import unicodedata
from datetime import datetime

MARKS_KEPT = 4
DOTTED_CIRCLE = "\u25cc"
FORMULA_SIGNS = "=+-@\uff1d\uff0b\uff0d\uff20"
UNSEEN_CATEGORIES = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
# Letters and marks by category, but drawn as nothing at all.
UNSEEN = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u180b\u180c\u180d\u180f\u2800\u3164\uffa0")
SPACES = re.compile(r"[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]")


def visible(text: str, *, limit: int | None = None) -> str:
    """One safe line of `text`, at most `limit` terminal cells wide ("..." where it was cut).

    >>> visible("\\x1b[2Jcleared\\u202e")
    '<1b>[2Jcleared<202e>'
    """
    if limit is not None and len(text) > 4 * limit + 64:
        text = text[: 4 * limit + 64]
    if not (text.isascii() and text.isprintable()):
        text = _drawn(text)
    return text if limit is None else _clipped(text, limit)


def visible_lines(text: str) -> list[str]:
    r"""The safe lines of a note of several lines; only a line feed (or CR LF) parts them.

    >>> visible_lines("one\r\ntwo\x85")
    ['one', 'two<85>']
    """
    return [visible(line.removesuffix("\r")) for line in text.split("\n")]


def cell_safe(text: str) -> str:
    """A safe CSV field: one line, led by an apostrophe where a spreadsheet could read a formula.

    >>> cell_safe("=1+1"), cell_safe("honey")
    ("'=1+1", 'honey')
    """
    bare = text.lstrip(" \t\r\n\v\f\0'\"\ufeff\u00a0\u3000\u200b")
    drawn = visible(text)
    return f"'{drawn}" if bare[:1] in tuple(FORMULA_SIGNS) or text[:1] in ("\t", "\r", "\n") else drawn


def plain_json(value: object) -> str:
    """One line of JSON in printable ASCII alone, so no byte of it can act on a terminal; times as RFC 3339.

    >>> plain_json({"note": "\\x9b2J caf\\u00e9 \\x7f"})
    '{"note":"\\\\u009b2J caf\\\\u00e9 \\\\u007f"}'
    """
    line = json.dumps(value, separators=(",", ":"), allow_nan=False, default=datetime.isoformat)
    return line.replace("\x7f", "\\u007f")


def plain_line(line: bytes) -> str:
    r"""A line that is already JSON, in printable ASCII alone: same keys, same numbers, same order.

    >>> plain_line('{"note":"café\x7f"}'.encode())
    '{"note":"caf\\u00e9\\u007f"}'
    """
    text = line.decode("utf-8")
    if text.isascii() and text.isprintable():
        return text
    return "".join(c if " " <= c <= "~" else _escaped(c) for c in text)


def _escaped(char: str) -> str:
    """Between tokens only white space can be outside printable ASCII, and a blank means the same."""
    return " " if char in "\t\r\n" else json.dumps(char)[1:-1].replace("\x7f", "\\u007f")


def _unseen(char: str) -> bool:
    if char.isascii():
        return not char.isprintable()
    code = ord(char)
    selector = 0xFE00 <= code <= 0xFE0F or 0xE0000 <= code <= 0xE0FFF
    return selector or char in UNSEEN or unicodedata.category(char) in UNSEEN_CATEGORIES


def _drawn(text: str) -> str:
    parts: list[str] = []
    marks, over, base = 0, 0, ""
    for char in text:
        if unicodedata.category(char) in ("Mn", "Me") and not _unseen(char):
            marks += 1
            if marks > MARKS_KEPT:
                over += 1
            else:
                parts.append(char if base else DOTTED_CIRCLE + char)
                base = base or DOTTED_CIRCLE
            continue
        if char in "\ufe0e\ufe0f" and base and unicodedata.category(base) == "So":
            continue
        parts.append(_excess(over))
        marks, over, base = 0, 0, "" if _unseen(char) else char
        parts.append(base or f"<{ord(char):02x}>")
    parts.append(_excess(over))
    return SPACES.sub(" ", "".join(parts))


def _excess(over: int) -> str:
    return f"<+{over} marks>" if over else ""


def counted(count: int, noun: str) -> str:
    """A count with its noun, in the plural unless it is one.

    >>> counted(1, "event"), counted(1200, "event")
    ('1 event', '1,200 events')
    """
    return f"{count:,} {noun}" if count == 1 else f"{count:,} {noun}s"


def cells(text: str) -> int:
    """The width of safe text in terminal cells: wide characters count two, marks none."""
    return len(text) if text.isascii() else sum(map(_width, text))


def _width(char: str) -> int:
    if unicodedata.category(char) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(char) in "WF" else 1


def _clipped(text: str, limit: int) -> str:
    if cells(text) <= limit:
        return text
    room, kept = max(0, limit - 3), 0
    for count, char in enumerate(text):
        kept += _width(char)
        if kept > room:
            return text[:count] + "..."[:limit]
    return text
