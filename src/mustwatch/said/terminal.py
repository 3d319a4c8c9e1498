"""What the terminal can show: whether it speaks more than ASCII, and text spelled so that it can."""

from collections.abc import Mapping
from textwrap import wrap

WIDTH = 79  # cells a plain command writes at most

# Terminals whose fonts are known to lack the dots of the charts.
BARE_TERMINALS = {"linux", "vt100", "vt102", "vt220", "ansi", "dumb", "cons25"}
SPELLED = str.maketrans(
    {
        "°": "", "·": "-", "–": "-", "—": "-", "−": "-", "→": "->", "≥": ">=", "≤": "<=", "±": "+-", "×": "x",
        "│": "|", "─": "-", "┼": "+", "├": "+", "└": "+", "┤": "+", "…": "...", "“": '"', "”": '"', "’": "'",
        "₂": "2", "³": "3", "²": "2", "◌": "", "µ": "u",
    }
)  # fmt: skip


def is_ascii(environ: Mapping[str, str]) -> bool:
    """True when only ASCII may be drawn: MUSTWATCH_ASCII=1, a locale without UTF-8, or a bare console.

    >>> is_ascii({"LANG": "en_GB.UTF-8"}), is_ascii({"LANG": "C"}), is_ascii({"LANG": "C.UTF-8", "TERM": "linux"})
    (False, True, True)
    """
    asked = environ.get("MUSTWATCH_ASCII", "")
    if asked:
        return asked != "0"
    if environ.get("TERM", "") in BARE_TERMINALS:
        return True
    return not _says_utf8(environ)


def _says_utf8(environ: Mapping[str, str]) -> bool:
    if named := environ.get("LC_ALL"):
        return "utf" in named.lower()
    kind, lang = environ.get("LC_CTYPE", ""), environ.get("LANG", "")
    # Python itself puts C.UTF-8 there when the user's locale is plain C (PEP 538).
    if kind == "C.UTF-8" and lang in ("", "C", "POSIX"):
        return False
    return "utf" in (kind or lang).lower()


def spelled(text: str, ascii_only: bool) -> str:
    """The text as this terminal can show it; what ASCII lacks is spelled out or drawn as its code.

    >>> spelled("21 °C → bouché", True)
    '21 C -> bouch<e9>'
    """
    if not ascii_only or text.isascii():
        return text
    return "".join(char if char.isascii() else f"<{ord(char):x}>" for char in text.translate(SPELLED))


def hung(head: str, text: str) -> list[str]:
    """The text in lines of a plain command, hanging behind its head.

    >>> hung("why   ", "glass bursts")
    ['why   glass bursts']
    """
    # A rule's name or a path that is broken can be neither read nor copied.
    led = " " * len(head)
    return wrap(
        text, WIDTH, initial_indent=head, subsequent_indent=led, break_on_hyphens=False, break_long_words=False
    ) or [head.rstrip()]
