"""The files of events in a cellar: the devices' own, copies left by a sync, and what is neither."""

import os
import re
import stat
from dataclasses import dataclass
from pathlib import Path

from mustwatch.ledger.files import nature
from mustwatch.ledger.trouble import Trouble

ENDING = ".jsonl"
OWN = re.compile(r"([0-9a-f]{16})\.jsonl\Z")
LEADS_WITH_DEVICE = re.compile(r"([0-9a-f]{16})(?![0-9a-f])")
HALF_WRITTEN = ("~", ".tmp", ".swp", ".swx", ".part", ".partial", ".lock")


@dataclass(frozen=True, slots=True)
class Found:
    """A file of events: `device` is whose lines it holds, None where the name does not say."""

    path: Path
    device: str | None
    copy: bool
    state: os.stat_result

    @property
    def name(self) -> str:
        return self.path.name

    @property
    def stamp(self) -> tuple[int, int, int, int]:
        """What changes whenever the file does: inode, size, times."""
        return self.state.st_ino, self.state.st_size, self.state.st_mtime_ns, self.state.st_ctime_ns


def stamps(folder: str, but: str) -> list[tuple[str, tuple[int, int, int, int]]]:
    """The names of the files to read `but` one, and what changes whenever one does: a look before every save."""
    with os.scandir(folder) as entries:
        files = [entry for entry in entries if entry.name.endswith(ENDING) and entry.name != but]
        wanted = [entry for entry in files if not entry.name.startswith(".")]
        states = [(entry.name, entry.stat(follow_symlinks=False)) for entry in wanted]
    return [
        (name, (s.st_ino, s.st_size, s.st_mtime_ns, s.st_ctime_ns)) for name, s in states if stat.S_ISREG(s.st_mode)
    ]


def sources(cellar: Path) -> tuple[list[Found], list[Trouble]]:
    """The files to read, in the order of their names, and the trouble with those that cannot be read."""
    found: list[Found] = []
    troubles: list[Trouble] = []
    for name in _names(cellar / "events", troubles):
        if name.startswith(".") or name.endswith(HALF_WRITTEN) or ENDING not in name.lower():
            continue
        _sort(cellar / "events" / name, found, troubles)
    return found, troubles


def _names(folder: Path, troubles: list[Trouble]) -> list[str]:
    try:
        return sorted(os.listdir(folder))
    except FileNotFoundError:
        return []
    except OSError as error:
        troubles.append(Trouble("events", None, f"cannot be read: {error.strerror}", "unread"))
        return []


def _sort(path: Path, found: list[Found], troubles: list[Trouble]) -> None:
    try:
        state = os.lstat(path)
    except OSError:
        return
    if not stat.S_ISREG(state.st_mode):
        what = f"is {nature(path)}, not a file; it is neither read nor written"
        troubles.append(Trouble(path.name, None, what, "special"))
    elif not path.name.lower().endswith(ENDING):
        what = "is not read: only names ending in .jsonl are; rename it, or move it out of the folder"
        troubles.append(Trouble(path.name, None, what, "stray"))
    else:
        own, leading = OWN.match(path.name), LEADS_WITH_DEVICE.match(path.name)
        found.append(Found(path, leading[1] if leading else None, own is None, state))
        if own is None:
            what = "is a copy left by a sync or placed by hand: it is read, never written; `repair` takes it in"
            troubles.append(Trouble(path.name, None, what, "copy"))
