"""What a save adds is known without reading all of the cellar again; whatever else changed is read."""

from __future__ import annotations

import os
from collections.abc import Callable

import pytest
from ledger.conftest import NOON, Place

from mustwatch.ledger import store
from mustwatch.ledger.drafts import draft


@pytest.fixture
def reads(place: Place, monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Counts how often the files are read; the cellar holds a note and was read once."""
    place.note("one")
    counted: list[int] = []
    monkeypatch.setattr(store, "contents", lambda *given, read=store.contents: counted.append(1) or read(*given))
    place.ledger.read()
    counted.clear()
    return counted


def test_a_save_is_followed_without_reading_and_tells_what_reading_would(place: Place, reads: list[int]) -> None:
    """Ten years of entries must not be read again for one more."""
    place.note("two")
    place.ledger.append([draft("read", NOON, "fir", gravity={"value": 1.04}, note="café"), draft("noted", NOON)], NOON)
    followed = place.ledger.read()
    assert not reads
    assert followed == place.again().read()
    assert len(followed.events) == 4


CHANGES: dict[str, Callable[[Place], object]] = {
    "another process of this machine": lambda place: place.again().append([draft("noted", NOON, note="other")], NOON),
    "another device": lambda place: (place.cellar / "events" / "00112233445566aa.jsonl").write_bytes(
        b'{"v":1,"id":"x","at":"2026-06-01T12:00:00Z","kind":"noted","note":"other"}\n'
    ),
    "an editor": lambda place: place.file.write_bytes(place.file.read_bytes().replace(b"one", b"One")),
    "a torn end": lambda place: place.file.write_bytes(place.file.read_bytes() + b'{"v":1'),
}


@pytest.mark.parametrize("who", CHANGES)
def test_whatever_else_changed_before_a_save_is_read(place: Place, reads: list[int], who: str) -> None:
    """What is shown is what is on disk, whoever wrote it."""
    os.utime(place.file, (1, 1))
    place.ledger.read()
    CHANGES[who](place)
    place.note("two")
    assert place.ledger.read() == place.again().read()
    assert len(reads) == 3


@pytest.mark.parametrize("who", CHANGES)
def test_whatever_else_changed_after_a_save_is_read(place: Place, reads: list[int], who: str) -> None:
    """The save was followed, and then the files were no longer as it left them."""
    place.note("two")
    CHANGES[who](place)
    assert place.ledger.read() == place.again().read()
    assert len(reads) == 2


@pytest.mark.parametrize(
    "event",
    [draft("read", NOON, "fir", must_c=20.0), draft("withdrew", NOON, target="x"), draft("amended", NOON, target="x")],
    ids=["temperature", "withdrew", "amended"],
)
def test_what_changes_how_earlier_lines_are_read_is_read_with_them(place: Place, reads: list[int], event) -> None:
    """A day of temperatures is condensed as a whole, and what a correction points at never is."""
    place.ledger.append([event], NOON)
    assert place.ledger.read() == place.again().read()
    assert len(reads) == 2


def test_a_look_back_is_always_read(place: Place, reads: list[int]) -> None:
    """It condenses thermometers as they stood then."""
    place.note("two")
    place.ledger.read(until=NOON)
    assert len(reads) == 1


def test_a_save_of_nothing_is_no_save(place: Place, reads: list[int]) -> None:
    """A sheet of which all is known already."""
    before = place.ledger.read()
    assert place.ledger.append([], NOON) == ()
    assert place.ledger.read() == before
