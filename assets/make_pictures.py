"""Makes the pictures of the round for the README, from the running program on the sample cellar.

python assets/make_pictures.py
"""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
from datetime import datetime
from pathlib import Path

ROOT = Path(__file__).parents[1]
SIZE = (120, 38)


PICTURES = {"round.svg": "heather-2", "round-course.svg": "acacia-1"}


async def pictured(target: Path, tag: str, unsent: Path) -> None:
    """Opens the round on the sample cellar, goes to a batch and writes what it shows as an SVG."""
    from mustwatch.commands.context import Context
    from mustwatch.screens.app import RoundApp
    from mustwatch.screens.look import Look
    from mustwatch.screens.unsent import Unsent

    context = Context(ROOT / "sample_cellar", None, lambda: datetime.now().astimezone())
    look = Look(context, context.settings)
    app = RoundApp(look, Unsent(context.cellar, unsent))
    async with app.run_test(size=SIZE) as pilot:
        while not app.screen.query("#when"):
            await pilot.pause(0.05)
        await pilot.pause(2.0)
        shown = app.screen.shown
        while shown.tag != tag:
            before = shown.tag
            await pilot.press("down")
            if shown.tag == before:
                raise SystemExit(f"{tag} is not in the list")
        await pilot.pause(1.0)
        picture = app.export_screenshot(title="mustwatch")
        # A picture that fetches its letters from elsewhere would tell that it was looked at.
        target.write_text(re.sub(r"\s*@font-face \{[^}]*\}", "", picture), encoding="utf-8")


def main() -> None:
    """Makes all pictures."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {"XDG_STATE_HOME": f"{folder}/state", "XDG_CACHE_HOME": f"{folder}/cache", "LC_ALL": "C.UTF-8",
                       "MUSTWATCH_COLOURS": "dark"}  # fmt: skip
        os.environ.pop("NO_COLOR", None)
        for name, tag in PICTURES.items():
            asyncio.run(pictured(ROOT / "assets" / name, tag, Path(folder) / "unsent.json"))


if __name__ == "__main__":
    main()
