"""How the round starts: little is loaded for the first frame, and the look is taken elsewhere."""

import os
import subprocess
import sys

import pytest
from screens.small_cellar import made, opened, usual

from mustwatch.screens.ahead import LookRefused, begun
from mustwatch.screens.look import Look
from mustwatch.screens.round.frame import frame_of, from_json, to_json


def loaded(statement: str) -> set[str]:
    """The names of the modules loaded by a statement in a fresh interpreter."""
    code = f"import sys; {statement}; print(' '.join(sys.modules))"
    return set(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split())


def test_the_screens_load_without_the_rules_and_the_look_without_the_screens():
    """The two halves of the start share nothing but the frame."""
    screens = loaded("import mustwatch.screens.app")
    assert not {"pydantic", "mustwatch.rules", "mustwatch.ledger.store"} & screens
    assert not {"textual", "rich"} & loaded("import mustwatch.screens.round.frame, mustwatch.screens.look")


def test_a_frame_survives_the_way_between_processes(tmp_path):
    """Tuples, times and all."""
    app = opened(made(tmp_path / "cellar", usual()))
    look = app.take_look()
    assert isinstance(look, Look)
    frame = frame_of(look, 80)
    assert from_json(to_json(frame)) == frame
    assert frame.rows[0].tag == "sealed-1" and frame.detail


@pytest.mark.skipif(not hasattr(os, "fork") or (os.cpu_count() or 1) < 2, reason="nothing is gained here by forking")
def test_a_look_taken_elsewhere_comes_back_or_says_why_not():
    """A refusal keeps its words; a fault leaves the parent to look for itself."""
    assert begun(lambda: "föhn", ValueError).text() == "föhn"

    def refuse():
        raise ValueError("no cellar here")

    with pytest.raises(LookRefused, match="no cellar here"):
        begun(refuse, ValueError).text()
    with pytest.raises(LookRefused, match="^$"):
        begun(lambda: 1 / 0, ValueError).text()


def test_without_a_terminal_the_round_refuses_in_one_line(tmp_path):
    """In a pipe there is nothing to draw on."""
    cellar = made(tmp_path / "cellar", usual())
    command = [sys.executable, "-m", "mustwatch", "--cellar", str(cellar)]
    done = subprocess.run(command, capture_output=True, text=True, stdin=subprocess.DEVNULL)
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1 and "mustwatch check" in done.stderr
