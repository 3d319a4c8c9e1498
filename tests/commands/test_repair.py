"""Repair in hostile places: one line, nothing lost."""

import pytest


@pytest.fixture
def torn(fir, home):
    """A cellar whose own file ends in half a line."""
    (path,) = (home / "cellar" / "events").glob("*.jsonl")
    with path.open("ab") as file:
        file.write(b'{"v":1,"to')
    return fir, path


def test_a_linked_aside_is_refused_in_one_line(torn, home):
    """Nothing is cut before it is safe."""
    run, path = torn
    before = path.read_bytes()
    (home / "elsewhere").mkdir()
    (home / "cellar" / "aside").symlink_to(home / "elsewhere")
    ran = run("repair", "--yes")
    assert ran.status == 2 and ran.err == "mustwatch: not repaired: aside is a symbolic link, not a folder\n"
    assert path.read_bytes() == before and not list((home / "elsewhere").iterdir())
    told = run("verify")
    assert told.status == 1 and "!!  aside is a symbolic link, not a folder" in told.out


def test_a_linked_folder_of_events_is_refused_in_one_line(torn, home):
    """By repair and by every save."""
    run, path = torn
    path.parent.rename(home / "elsewhere")
    (home / "cellar" / "events").symlink_to(home / "elsewhere")
    for words in (["repair", "--yes"], ["note", "fir", "x"]):
        ran = run(*words)
        assert ran.status in (2, 3) and "events is a symbolic link, not a folder" in ran.err
        assert ran.err.splitlines()[-1].count("events is") == 1
    assert "!!  events is a symbolic link" in run("verify").out


def test_a_half_synced_line_of_another_machine_is_told_as_what_it_is(fir, home):
    """By verify and check; this machine sets nothing of it aside, and repair does not call it damaged."""
    other = home / "cellar" / "events" / "aaaaaaaaaaaaaaaa.jsonl"
    line = '{"v":1,"id":"019b7712-8400-7000-8000-000000000001","seq":1,"at":"2026-02-01T00:00:00Z","kind":"noted"}\n'
    other.write_text(line + line[:60])
    for words in (["verify"], ["check"]):
        ran = fir(*words)
        told = " ".join(ran.out.split())
        assert ran.status == 1 and "aaaaaaaaaaaaaaaa.jsonl:2 is not yet wholly synced" in told
        assert "the next save sets it aside" not in told and "ait for the next sync" in told
    assert "damaged" not in fir("repair").err and other.read_text() == line + line[:60]
    other.write_text(line)
    assert fir("verify").status == 0
