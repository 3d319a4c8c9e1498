"""What the terminal can show is found out, not assumed."""

import pytest

from mustwatch.said.terminal import is_ascii, spelled


@pytest.mark.parametrize(
    ("environ", "ascii_only"),
    [
        ({"LANG": "de_DE.UTF-8"}, False),
        ({"LANG": "de_DE.utf8", "TERM": "screen-256color"}, False),
        ({"LANG": "C"}, True),
        ({}, True),
        ({"LC_ALL": "C", "LANG": "en_GB.UTF-8"}, True),
        ({"LC_CTYPE": "C.UTF-8", "LANG": "C"}, True),
        ({"LC_CTYPE": "en_GB.UTF-8"}, False),
        ({"LANG": "en_GB.UTF-8", "TERM": "linux"}, True),
        ({"LANG": "en_GB.UTF-8", "MUSTWATCH_ASCII": "1"}, True),
        ({"LANG": "C", "MUSTWATCH_ASCII": "0"}, False),
    ],
)
def test_ascii_is_drawn_where_nothing_says_utf_8(environ, ascii_only):
    """Question marks in place of a chart would be worse than dots."""
    assert is_ascii(environ) is ascii_only


def test_what_ascii_lacks_is_spelled_or_drawn_as_its_code():
    """Nothing is left out in silence."""
    assert spelled("21 °C → é", True) == "21 C -> <e9>"
    assert spelled("21 °C", False) == "21 °C"
