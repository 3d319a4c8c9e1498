"""How the round starts: nothing is loaded that the first frame can do without."""

import subprocess
import sys

from screens.small_cellar import made, opened, played, usual

from mustwatch.screens.round import detail
from mustwatch.screens.round.sections import opening_sections

FIRST_FRAME = """
import asyncio, sys
from datetime import datetime
from pathlib import Path
from mustwatch.commands.context import Context
from mustwatch.screens.look import Look
context = Context(Path(sys.argv[1]), None, lambda: datetime.now().astimezone())
look = Look(context, context.settings)
assert not {"textual", "rich"} & set(sys.modules)
from mustwatch.screens.app import RoundApp
from mustwatch.screens.round.screen import RoundScreen
from mustwatch.screens.unsent import Unsent
drawn = []
RoundScreen._complete = lambda self: drawn.append(self)
async def run():
    async with RoundApp(look, Unsent(Path(sys.argv[1]), Path(sys.argv[1]) / "unsent.json")).run_test() as pilot:
        while not drawn:
            await pilot.pause(0.01)
asyncio.run(run())
print(" ".join(sys.modules))
"""
LATER = ("screens.bench", "screens.forms", "screens.help", "screens.explain", "screens.round.story",
         "screens.round.course", "deeds", "judgement.forecast", "calculators")  # fmt: skip


def test_the_first_frame_waits_for_nothing_it_does_not_show(tmp_path):
    """Each module takes its time to load, and much of it on a small machine."""
    cellar = made(tmp_path / "cellar", usual())
    command = [sys.executable, "-c", FIRST_FRAME, str(cellar)]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    loaded = ran.stdout.split()
    assert "mustwatch.screens.round.screen" in loaded
    assert [name for name in loaded if name.startswith(tuple(f"mustwatch.{part}" for part in LATER))] == []


def test_the_first_frame_is_wrapped_once_to_the_width_it_is_shown_in(tmp_path, monkeypatch):
    """Text that jumps to other lines once the screen is there has to be read twice."""
    app = opened(made(tmp_path / "cellar", usual()))
    widths: list[int] = []

    def watched(look, batch, width):
        widths.append(width)
        return opening_sections(look, batch, width)

    monkeypatch.setattr(detail, "opening_sections", watched)

    async def play(pilot):
        assert set(widths) == {app.screen.query_one("#detail").size.width}

    played(app, play)


def test_without_a_terminal_the_round_refuses_in_one_line(tmp_path):
    """In a pipe there is nothing to draw on."""
    cellar = made(tmp_path / "cellar", usual())
    command = [sys.executable, "-m", "mustwatch", "--cellar", str(cellar)]
    done = subprocess.run(command, capture_output=True, text=True, stdin=subprocess.DEVNULL)
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1 and "mustwatch check" in done.stderr
