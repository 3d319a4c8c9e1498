"""What a device saw of the others: a file that vanishes or shrinks is told, and only that."""

from datetime import timedelta

from ledger.conftest import NOON, Place

from mustwatch.ledger import witness
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.memory import seen_in


def place(tmp_path, name: str) -> Place:
    """A machine of its own over one shared cellar."""
    found = Place(tmp_path, "shared", machine=name)
    return found


def told(cellar: Place) -> list[str]:
    ledger = cellar.again()
    notes = witness.notes_of(line for _, line in ledger.lines())
    return [trouble.kind for trouble in ledger.missing(notes, ())]


def write(cellar: Place, text: str, hours: float = 0):
    now = NOON + timedelta(hours=hours)
    ledger = cellar.again()
    event = ledger.witness(now)
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
    ledger = home.again()
    notes = witness.notes_of(line for _, line in ledger.lines())
    event = witness.accepting(ledger.missing(notes, ()), seen_in(home.cellar), NOON)
    ledger.append([event], NOON)
    assert told(home) == []
    path.unlink()
    assert told(home) == ["vanished"]


def test_a_loss_is_told_on_a_machine_that_looks_for_the_first_time(tmp_path):
    """By the note of the one that saw more; the number alone would not tell an older copy that grew otherwise."""
    home = Place(tmp_path, "home")
    path, lines = other_file(home)
    write(home, "a")
    shed = place(tmp_path, "shed")
    shed.ledger.cellar.joinpath("events").rmdir()
    shed.ledger.cellar.joinpath("events").symlink_to(home.cellar / "events")
    path.write_text(lines[0])
    assert told(shed) == ["shrunk"]
    path.write_text("".join(lines).replace("00000000003", "00000000004"))
    assert told(shed) == ["replaced"]


def test_what_was_accepted_elsewhere_counts_here_and_what_comes_after_is_watched_again(tmp_path):
    """A loss that another machine knows of is no news; the file that came back and went again is."""
    home = Place(tmp_path, "home")
    path, lines = other_file(home)
    write(home, "a")
    assert told(home) == []
    path.write_text(lines[0])
    assert told(home) == ["shrunk"]
    elsewhere = Place(tmp_path, "home", machine="shed").again()
    elsewhere.append([draft("witnessed", NOON, accepted={"aaaaaaaaaaaaaaaa": 1})], NOON)
    assert told(home) == []
    path.write_text("".join(lines))
    assert told(home) == []
    path.write_text(lines[0])
    assert told(home) == ["shrunk"]
