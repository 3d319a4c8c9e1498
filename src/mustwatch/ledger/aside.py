"""What was set aside: bytes cut from files of events, kept until somebody has looked at them."""

import os
from contextlib import suppress
from pathlib import Path

from mustwatch.ledger.files import opened
from mustwatch.ledger.trouble import Trouble

SEEN = "seen"


def kept_aside(cellar: Path) -> list[Trouble]:
    """One trouble for each file in `aside` that nobody has acknowledged."""
    try:
        with os.scandir(cellar / "aside") as entries:
            names = sorted(entry.name for entry in entries if entry.is_file(follow_symlinks=False))
            return [_told(cellar / "aside" / name) for name in names if not name.startswith(".")]
    except OSError:
        return []


def lines_set_aside(cellar: Path, device: str | None) -> int:
    """How many lines a repair has taken out of a device's file."""
    folders = (cellar / "aside", cellar / "aside" / SEEN)
    paths = [path for folder in folders for path in folder.glob(f"{device}-lines-*.damaged*")] if device else []
    count = 0
    for path in paths:
        with suppress(OSError), os.fdopen(opened(path), "rb") as file:
            count += sum(1 for _ in file)
    return count


def _told(path: Path) -> Trouble:
    try:
        size = path.stat(follow_symlinks=False).st_size
    except OSError:
        size = 0
    what = f"{size} bytes cut from a file of events are kept here; `repair` shows them and files them as seen"
    return Trouble(f"aside/{path.name}", None, what, "aside")
