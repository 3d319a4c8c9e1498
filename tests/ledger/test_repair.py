"""Mending: said exactly, done as said, every damaged byte kept."""

import pytest
from ledger.conftest import NOON

from mustwatch.ledger.store import Unusable


def mend_all(place, everything=False):
    """Do all that is offered until nothing is; what was said."""
    ledger, said = place.again(), []
    while plans := ledger.mends(everything):
        assert len(said) < 20
        said.append(plans[0].what)
        ledger.mend(plans[0], NOON)
    return said


def all_bytes(place):
    return b"".join(path.read_bytes() for path in place.cellar.rglob("*") if path.is_file())


def test_a_torn_end_is_cut_and_its_bytes_are_kept(place):
    """After the user has seen them, the cellar is sound again."""
    place.note("one")
    with place.file.open("ab") as file:
        file.write(b'{"torn":1')
    assert mend_all(place) == ["tail", "aside"]
    assert place.again().health(NOON).sound and b'{"torn":1' in all_bytes(place)


def test_damaged_lines_are_moved_and_sound_ones_stay_byte_for_byte(place):
    """The file is written anew in one step; a sound event behind damage is saved."""
    place.note("one", "two", "three")
    lines = place.file.read_bytes().splitlines(keepends=True)
    bad = lines[1].replace(b'"two"', b'"twp"')
    place.file.write_bytes(lines[0] + bad + b"junk\n" + b"\0\0\0" + lines[2])
    (plan,) = place.again().mends()
    assert plan.lines == (2, 3, 4)
    assert mend_all(place) == ["lines", "aside"]
    assert place.file.read_bytes() == lines[0] + lines[2]
    assert bad in all_bytes(place) and b"junk\n" in all_bytes(place)
    assert place.again().health(NOON).sound
    place.ledger = place.again()
    place.note("four")
    assert place.notes() == ["one", "three", "four"] and place.kinds() == []


def test_a_copy_gives_its_own_events_and_is_put_away(place):
    """What stands only in it is taken in with its id, once."""
    first = place.note("one", "two")
    full = place.file.read_bytes()
    place.file.write_bytes(full.splitlines(keepends=True)[0])
    place.file.with_name(place.file.stem + ".sync-conflict-1.jsonl").write_bytes(full)
    assert mend_all(place) == ["copy"]
    assert place.notes() == ["one", "two"] and place.again().health(NOON).sound
    assert [event.id for event in place.again().read().events] == first
    assert not any("conflict" in path.name for path in place.files())


def test_another_devices_file_is_mended_only_when_asked(another):
    """Its own machine would bring the damage back, or a conflict."""
    home, shed = another(), another(machine="shed")
    home.note("one")
    with home.file.open("ab") as file:
        file.write(b"junk\n" + home.file.read_bytes())
    assert shed.again().mends() == [] and shed.again().damaged_elsewhere() == [home.file.name]
    assert mend_all(shed, everything=True) == ["lines", "aside"]
    assert b"junk" not in home.file.read_bytes()


def test_one_chosen_line_can_be_set_aside(place):
    """The user's word where two versions of one event stand and only they know which is right."""
    place.note("one", "two")
    ledger = place.again()
    done = ledger.mend(ledger.dropping(place.file.name, 1), NOON)
    assert done.startswith("1 lines are now in aside/") and place.notes() == ["two"]
    assert b'"one"' in place.aside()
    for file, line in ((place.file.name, 9), ("../cellar.toml", 1), ("none.jsonl", 1)):
        with pytest.raises(Unusable):
            ledger.dropping(file, line)


def test_a_file_that_changed_meanwhile_is_not_touched(place, monkeypatch):
    """Between saying and doing somebody else may write."""
    from mustwatch.ledger import repair

    place.note("one", "two")
    with place.file.open("ab") as file:
        file.write(b"junk\n")
    (plan,) = place.again().mends()
    real = repair.write_whole

    def slow(path, parts, *more):
        if path == place.file:
            with place.file.open("ab") as file:
                file.write(b"new\n")
        real(path, parts, *more)

    monkeypatch.setattr(repair, "write_whole", slow)
    with pytest.raises(Unusable, match="changed meanwhile"):
        place.again().mend(plan, NOON)
    assert place.file.read_bytes().endswith(b"junk\nnew\n")
    assert not list(place.cellar.rglob("*.tmp"))


def test_a_sound_cellar_offers_nothing(place):
    """No busy work."""
    place.note("one")
    assert place.again().mends() == []
