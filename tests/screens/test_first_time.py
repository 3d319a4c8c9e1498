"""A fresh machine: the program greets, says what it is, and goes on by one key."""

from __future__ import annotations

import pytest
from screens.pseudo_terminal import Terminal, environment


@pytest.mark.parametrize(("key", "shown"), [("m", b"no batch yet"), ("s", b"Under the stairs")])
def test_one_key_makes_a_cellar_or_opens_the_invented_one(tmp_path, key, shown):
    """Nobody has to leave for the shell first."""
    terminal = Terminal(tmp_path / "cellar", environment(tmp_path))
    try:
        terminal.until(b"any other key leaves")
        assert b"the daily round for a home mead maker" in terminal.written
        terminal.type(key)
        terminal.settle()
        assert shown in terminal.written
        terminal.type("q")
        assert terminal.ended() == 0
    finally:
        terminal.close()
    assert (tmp_path / "cellar" / "cellar.toml").exists() == (key == "m")


def test_any_other_key_makes_nothing(tmp_path):
    """And says so."""
    terminal = Terminal(tmp_path / "cellar", environment(tmp_path))
    try:
        terminal.until(b"any other key leaves")
        terminal.type("x")
        assert terminal.ended() == 2
        assert b"no cellar was made" in terminal.written
    finally:
        terminal.close()
    assert not (tmp_path / "cellar").exists()
