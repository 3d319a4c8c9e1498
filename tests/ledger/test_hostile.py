"""Hostile text is kept word for word and can do nothing, on the bytes of a real terminal."""

import json
import os
import pty
import re
import subprocess
import sys

import pytest
from ledger.conftest import NOON
from ledger.hostile_strings import HOSTILE

from mustwatch.ledger.drafts import draft
from mustwatch.ledger.visible import visible

ACTING = re.compile(
    "[\x00-\x09\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]|[\U000e0000-\U000e0fff]"
)


def on_terminal(place, *words) -> tuple[int, str]:
    """The exit status and every byte a command sends to a terminal."""
    where = place.root / "machine-home"
    env = {
        "PATH": os.environ["PATH"],
        "HOME": str(place.root),
        "TERM": "xterm",
        "LANG": "C.UTF-8",
        "PYTHONPATH": os.pathsep.join(sys.path),
        "XDG_STATE_HOME": str(where),
    }
    leader, follower = pty.openpty()
    command = [sys.executable, "-m", "mustwatch", "--cellar", str(place.cellar), *words]
    running = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=follower, stderr=follower, env=env)
    os.close(follower)
    seen = b""
    try:
        while block := os.read(leader, 65536):
            seen += block
    except OSError:  # Linux tells the end of a terminal so
        pass
    os.close(leader)
    return running.wait(30), seen.decode("utf-8", "strict")


@pytest.fixture
def hostile(place):
    """A cellar with every hostile string as a note."""
    for text in HOSTILE.values():
        place.ledger.append([draft("noted", NOON, "fir", note=text)], NOON)
    return place


def test_every_string_comes_back_as_it_went_in(hostile):
    """Nothing is dropped, trimmed or normalised in the ledger."""
    assert hostile.notes() == list(HOSTILE.values()) and hostile.kinds() == []
    assert hostile.file.read_bytes().count(b"\n") == len(HOSTILE)


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_no_string_can_act_or_hide_when_shown(text):
    """One line, every unseen character drawn."""
    shown = visible(text)
    assert not ACTING.search(shown) and "\n" not in shown and shown.strip()


def test_the_listing_sends_no_acting_byte_to_a_terminal(hostile):
    """All of it printable ASCII, and still the same strings."""
    status, seen = on_terminal(hostile, "events")
    assert status == 0 and not ACTING.search(seen) and seen.isascii()
    assert [json.loads(line)["note"] for line in seen.splitlines()] == list(HOSTILE.values())


@pytest.mark.parametrize("command", [["verify"], ["events"], ["repair"]], ids=lambda words: words[0])
def test_damage_is_told_without_letting_it_act(hostile, command):
    """The excerpt of a bad line is the bad line's chance."""
    with hostile.file.open("ab") as file:
        for text in HOSTILE.values():
            file.write(b'{"junk":"' + text.replace("\n", " ").encode() + b'"}\n')
    status, seen = on_terminal(hostile, *command)
    assert not ACTING.search(seen.replace("\r\n", "\n"))
    assert "\r" not in seen.replace("\r\n", "\n")


def test_a_file_name_is_shown_not_obeyed(place):
    """Somebody else's sync made the name."""
    place.note("one")
    place.file.with_name("\x1b[2J\u202e.jsonl").write_bytes(place.file.read_bytes())
    status, seen = on_terminal(place, "verify")
    assert status == 1 and not ACTING.search(seen.replace("\r\n", "\n")) and "<1b>[2J<202e>.jsonl" in seen
