"""The bare text of lines, for the tests of what is shown."""

from collections.abc import Iterable

from mustwatch.screens.ink import Line


def text_of(lines: Iterable[Line]) -> str:
    """The text without its roles, a line a line."""
    return "\n".join("".join(text for text, _ in one).rstrip() for one in lines)
