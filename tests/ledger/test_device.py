"""Whose file is whose: decided outside the cellar."""

import json

import pytest
from ledger.conftest import NOON

from mustwatch.ledger.device import Identity, machine
from mustwatch.ledger.drafts import draft


def test_a_machine_has_the_same_name_every_time():
    """It must not change from one start to the next."""
    assert machine() == machine() and machine()


def test_a_cellar_reached_by_another_path_is_the_same_cellar(place, tmp_path):
    """Through a link the same file is written."""
    place.note("one")
    (tmp_path / "link").symlink_to(place.cellar)
    from mustwatch.ledger.store import Ledger

    where = tmp_path / "machine-home"
    Ledger(tmp_path / "link", state=where / "state").append([draft("noted", NOON, note="two")], NOON)
    assert len(place.files()) == 1 and place.notes() == ["one", "two"]


def test_two_machines_write_two_files(another):
    """A shared folder: nobody ever writes another's file."""
    home, shed = another(), another(machine="shed")
    home.note("one")
    before = home.file.read_bytes()
    shed.note("two")
    home.note("three")
    assert len(home.files()) == 2 and home.notes() == shed.notes() == ["one", "two", "three"]
    assert any(path.read_bytes().startswith(before) for path in home.files())


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "null", '{"device":7,"machine":"x"}', '{"device":"../../x","machine":"x"}']
)
def test_damaged_local_state_costs_a_new_file_and_nothing_else(place, text):
    """The name of a file never comes unchecked from a file."""
    place.note("one")
    path = place.ledger.identity.folder / "device.json"
    if "device" in text:
        text = json.dumps(json.loads(text) | {"machine": machine()})
    path.write_text(text)
    place.ledger = place.again()
    place.note("two")
    assert place.notes() == ["one", "two"] and len(place.files()) == 2
    assert {p.parent for p in place.files()} == {place.cellar / "events"}


def test_a_lost_hint_costs_nothing(place):
    """The lock's file was emptied by a power cut: the end of the own file tells the same."""
    place.note("one")
    (place.ledger.identity.folder / "lock").write_bytes(b"\0" * 256)
    place.ledger = place.again()
    place.note("two")
    assert len(place.files()) == 1 and [e.seq for e in place.again().read().events] == [1, 2]


def test_nothing_of_the_identity_is_in_the_cellar(place):
    """A sync would carry it to the other machine."""
    place.note("one")
    assert not list(place.cellar.rglob("*lock*")) and not list(place.cellar.rglob("*device*"))
    assert isinstance(place.ledger.identity, Identity)


def test_entries_with_ids_of_another_program_keep_the_file(place):
    """They come by import: the file goes on, and its numbers too."""
    from mustwatch.ledger.drafts import stamped

    place.note("one")
    place.ledger.import_events([stamped(draft("noted", NOON, note="two"), "there-2", None)], NOON)
    place.ledger = place.again()
    place.note("three")
    assert len(place.files()) == 1 and [e.seq for e in place.again().read().events] == [1, 3, 2]


def test_a_name_that_others_could_have_written_is_not_taken(place):
    """It could lead this machine into another's file."""
    place.note("one")
    path = place.ledger.identity.folder / "device.json"
    path.chmod(0o666)
    place.ledger = place.again()
    place.note("two")
    assert len(place.files()) == 2 and place.notes() == ["one", "two"]
