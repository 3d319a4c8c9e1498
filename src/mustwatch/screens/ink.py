"""Lines of text with roles: what screens write before anything is coloured. Pure; colours live in the style sheets."""

import textwrap

from mustwatch.ledger.visible import cells, visible

# A line is pieces of (text, role); roles are the ink-- classes of the style sheets.
Piece = tuple[str, str]
Line = tuple[Piece, ...]
ROLES = ("", "danger", "today", "watch", "note", "dim", "strong", "head", "cursor", "reading", "course", "fan",
         "now", "level", "good")  # fmt: skip


def line(text: str, role: str = "") -> Line:
    """One line of one piece; the text is made safe to show."""
    return ((visible(text), role),)


def wrapped(text: str, width: int, role: str = "", first: str = "", rest: str = "") -> list[Line]:
    """The text as lines at most `width` cells wide, led by `first` and then by `rest`; made safe to show."""
    safe = visible(text)
    if not safe.isascii():
        return _wrapped_by_cells(safe, width, role, first, rest)
    found = textwrap.wrap(safe, max(8, width), initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return [((text, role),) for text in found] or [((first, role),)]


def _wrapped_by_cells(text: str, width: int, role: str, first: str, rest: str) -> list[Line]:
    # textwrap counts characters; wide ones take two cells.
    found, current = [], first
    for word in text.split(" "):
        while cells(word) > width - len(rest):
            taken = _fitting(word, max(1, width - cells(current)))
            found.append(current + taken)
            word, current = word[len(taken) :], rest
        if cells(current) + cells(word) > width:
            found.append(current.rstrip())
            current = rest
        current += word + " "
    found.append(current.rstrip())
    return [((text, role),) for text in found]


def _fitting(word: str, room: int) -> str:
    taken, used = 1, cells(word[:1])
    while taken < len(word) and used + cells(word[taken]) <= room:
        used += cells(word[taken])
        taken += 1
    return word[:taken]


def padded(text: str, width: int) -> str:
    """The text, made safe, cut or filled to exactly `width` cells."""
    safe = visible(text)
    if cells(safe) > width:
        safe = visible(safe, limit=width)
    return safe + " " * (width - cells(safe))


ROOMY = 56


def labelled(label: str, text: str, width: int, role: str = "", label_width: int = 9) -> list[Line]:
    """A dim label and the text beside it, wrapped under itself; in a narrow pane wrapped under the label."""
    if width < ROOMY:
        lead = f"{label}: " if label else "  "
        body = wrapped(text, width - 2, role, first=" " * max(0, len(lead) - 2))
        first = body[0][0][0].lstrip() if len(body[0]) == 1 else body[0][0][0]
        return [((lead, "dim"), (first, role)), *((("  ", ""), *more) for more in body[1:])]
    body = wrapped(text, width - label_width, role)
    head = ((label.ljust(label_width), "dim"), *body[0])
    return [head, *(((" " * label_width, ""), *more) for more in body[1:])]
