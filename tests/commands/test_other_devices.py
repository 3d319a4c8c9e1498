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
