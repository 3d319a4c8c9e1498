"""What a device saw of the others: a file that vanishes or shrinks is told, and only that."""

from datetime import timedelta

from ledger.conftest import NOON, Place

from mustwatch.ledger import witness
from mustwatch.ledger.drafts import draft


def place(tmp_path, name: str) -> Place:
    """A machine of its own over one shared cellar."""
    found = Place(tmp_path, "shared", machine=name)
    return found


def told(cellar: Place) -> list[str]:
    notes = witness.notes_of(line for _, line in cellar.again().lines())
    return [trouble.kind for trouble in witness.gone(notes, witness.numbers(cellar.cellar))]


def write(cellar: Place, text: str, hours: float = 0):
    now = NOON + timedelta(hours=hours)
    ledger = cellar.again()
    event = witness.due(cellar.cellar, ledger.identity, now)
    if event is not None:
        witness.noted(ledger.identity, ledger.append([event], now)[0])
    return ledger.append([draft("noted", now, note=text)], now)[0]


def other_file(cellar: Place, count: int = 3):
    """A file of another device, as a sync brings it."""
    path = cellar.cellar / "events" / "aaaaaaaaaaaaaaaa.jsonl"
    lines = [
        f'{{"v":1,"id":"019b7712-8400-7000-8000-00000000000{n}","seq":{n},'
        f'"at":"2026-01-01T0{n}:00:00Z","kind":"noted","note":"x"}}\n'
        for n in range(1, count + 1)
    ]
    path.write_text("".join(lines))
    return path, lines


def test_a_device_alone_notes_nothing(tmp_path):
    """There is nothing to see."""
    home = Place(tmp_path, "home")
    write(home, "a")
    assert [event.kind for event in home.again().read().events] == ["noted"]


def test_others_are_noted_at_most_once_a_day_and_only_when_they_grew(tmp_path):
    """The ledger does not fill with notes."""
    home = Place(tmp_path, "home")
    other_file(home)
    for hours in (0, 1, 30, 31):
        write(home, f"{hours}", hours)
    other_file(home, 4)
    write(home, "grown", 60)
    seen = [event.devices for event in home.again().read().events if event.kind == "witnessed"]
    assert [list(devices.values()) for devices in seen] == [[3], [4]]


def test_a_file_that_vanished_is_told_until_it_is_back(tmp_path):
    """With its name and how much was in it."""
    home = Place(tmp_path, "home")
    path, lines = other_file(home)
    write(home, "a")
    assert told(home) == []
    path.unlink()
    assert told(home) == ["vanished"]
    path.write_text("".join(lines))
    assert told(home) == []


def test_a_file_that_shrank_is_told_and_one_that_grew_is_not(tmp_path):
    """An older copy put back by a sync."""
    home = Place(tmp_path, "home")
    path, lines = other_file(home)
    write(home, "a")
    path.write_text(lines[0])
    assert told(home) == ["shrunk"]
    other_file(home, 5)
    assert told(home) == []


def test_what_is_known_to_be_gone_is_told_no_more(tmp_path):
    """Until somebody has seen more in it again."""
    home = Place(tmp_path, "home")
    path, lines = other_file(home)
    write(home, "a")
    path.write_text(lines[0])
    there = witness.numbers(home.cellar)
    notes = witness.notes_of(line for _, line in home.again().lines())
    event = witness.accepting(witness.gone(notes, there), there, NOON)
    home.again().append([event], NOON)
    assert told(home) == []
    path.unlink()
    assert told(home) == ["vanished"]
