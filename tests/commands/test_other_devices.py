"""What another device's file held and holds no more is told, by whatever command looks; and what a program wrote."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

OTHER = "aaaaaaaaaaaaaaaa.jsonl"


@pytest.fixture
def shared(fir, home: Path):
    """A cellar in which a second device has written, seen at the last save; (runner, the second device's file)."""
    path = home / "cellar" / "events" / OTHER
    path.write_text(
        "".join(
            f'{{"v":1,"id":"019b7712-8400-7000-8000-00000000000{n}","seq":{n},"at":"2026-02-0{n}T00:00:00Z",'
            '"kind":"noted","note":"x"}\n'
            for n in (1, 2, 3)
        )
    )
    assert fir("note", "fir", "seen").status == 0
    return fir, path


def kinds(run) -> list[str]:
    return [json.loads(line)["kind"] for line in run("events").out.splitlines()]


def test_a_file_that_vanished_is_told_until_it_is_accepted(shared) -> None:
    """By `verify` and `check`, with what was in it."""
    run, path = shared
    assert run("verify").status == 0 and kinds(run).count("witnessed") == 1
    path.unlink()
    told = run("verify")
    assert told.status == 1 and f"{OTHER} has vanished; 3 entries were seen in it" in told.out
    assert any(trouble["what"] == "vanished" for trouble in run("check", "--json").json["troubles"])
    assert run("verify", "--accept").status == 0
    assert run("verify").status == 0 and not run("check", "--json").json["troubles"]


def test_undo_takes_back_what_a_person_wrote(shared) -> None:
    """Not the note on the other device, and not a probe's line."""
    run, _ = shared
    assert "seen" in run("undo").out
    assert "took back closed" in run("undo").out


def test_verify_tells_of_git_where_the_cellar_is_a_repository(fir, home) -> None:
    """As a line that is no damage, and as keys."""
    import shutil
    import subprocess

    if shutil.which("git") is None:
        pytest.skip("needs git")
    assert fir("verify", "--json").json["git"] is None
    subprocess.run(["git", "init", "-q", str(home / "cellar")], check=True)
    ran = fir("verify")
    assert ran.status == 0 and "--  git: 4 lines not committed, no place to push to is set" in ran.out
    assert fir("verify", "--json").json["git"] == {"uncommitted": 4, "unpushed": 0, "upstream": None}


def test_the_own_file_put_back_is_told_with_the_way_back(fir, home) -> None:
    """By `verify`, by `check` and by the round's top line; a file restored ends it, and so does accepting the loss."""
    from datetime import UTC, datetime

    from mustwatch.commands.context import Context
    from mustwatch.screens.look import Look

    (path,) = (home / "cellar" / "events").glob("*.jsonl")
    whole = path.read_bytes()
    path.write_bytes(whole.splitlines(keepends=True)[0])
    told = fir("verify")
    assert told.status == 1 and "has shrunk to 1 entry; 4 entries were seen in it" in told.out
    assert "restore it from a backup" in told.out and "verify --accept" in told.out and "sound" not in told.out
    checked = fir("check")
    assert checked.status == 1 and "RECORD  cellar  shrunk" in checked.out and "way back Restore it" in checked.out
    context = Context(home / "cellar", None, lambda: datetime.now(UTC))
    assert "has shrunk to 1 entry" in Look(context, context.settings).trouble
    path.write_bytes(whole)
    assert fir("verify").status == 0
    path.unlink()
    assert fir("check").status == 1 and "has vanished" in fir("verify").out
    assert fir("verify", "--accept").status == 0 and fir("verify").status == 0


def test_a_broken_memory_is_said_until_it_is_accepted(fir, home) -> None:
    """In one line by each command that looks, never a crash."""
    (kept,) = home.glob("xdg_state_home/mustwatch/cellars/*/device.json")
    kept.with_name("witnessed.json").write_text("{")
    assert fir("note", "fir", "x").status == 0
    told = fir("verify")
    assert told.status == 1 and "what was last seen of the files is damaged" in told.out
    assert fir("verify", "--accept").status == 0 and fir("verify").status == 0


def test_a_new_cellar_where_another_was_begins_without_a_past(fir, home) -> None:
    """`init` after the old one was taken away."""
    import shutil

    shutil.rmtree(home / "cellar")
    assert fir("init").status == 0 and fir("verify").status == fir("check").status == 0


def test_what_a_repair_sets_aside_is_known_to_be_gone(fir, home) -> None:
    """It was seen by its user; a loss of before stays one."""
    (path,) = (home / "cellar" / "events").glob("*.jsonl")
    assert fir("verify").status == 0
    path.write_bytes(path.read_bytes().replace(b"airlock", b"airlick"))
    assert "has shrunk" not in fir("verify").out
    assert fir("repair", "--yes").status == 0 and fir("repair", "--yes").status == 0
    told = fir("verify")
    assert told.status == 0, told.out
    path.unlink()
    assert fir("verify").status == 1
