"""The files of a cellar: the devices' own, copies left by a sync, what is neither, and what was set aside."""

import os
import re
import stat
import time
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from mustwatch.ledger.files import nature, opened, real_folder
from mustwatch.ledger.trouble import Trouble

ENDING = ".jsonl"
SEEN = "seen"
RACY_NS = 50_000_000
LINKED = "has another name elsewhere (a hard link): what is written to one changes the other"
UNLINK = "`mustwatch repair` makes it a file of its own"
OWN = re.compile(r"([0-9a-f]{16})\.jsonl\Z")
LEADS_WITH_DEVICE = re.compile(r"([0-9a-f]{16})(?![0-9a-f])")
HALF_WRITTEN = ("~", ".tmp", ".swp", ".swx", ".part", ".partial", ".lock")


class Found(NamedTuple):
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


class Others:
    """The files to read in a folder, for a look before every save: listed again only when the folder changed."""

    def __init__(self, folder: str) -> None:
        self.folder = folder
        self._names: list[str] = []
        self._listed_ns = 0
        self._changed_ns = -1

    def stamps(self, but: str) -> list[tuple[str, tuple[int, int, int, int]]]:
        """The names of the regular files `but` one, and what changes whenever one does. Raises Special, OSError."""
        changed_ns = real_folder(self.folder).st_mtime_ns
        if changed_ns != self._changed_ns or self._listed_ns - changed_ns < RACY_NS:
            self._listed_ns, self._changed_ns = time.time_ns(), changed_ns
            names = os.listdir(self.folder)
            self._names = [name for name in names if name.endswith(ENDING) and not name.startswith(".")]
        found = []
        for name in self._names:
            if name != but and (stamp := self._stamp(name)):
                found.append((name, stamp))
        return found

    def _stamp(self, name: str) -> tuple[int, int, int, int] | None:
        try:
            state = os.lstat(os.path.join(self.folder, name))
        except FileNotFoundError:
            return None
        regular = stat.S_ISREG(state.st_mode)
        return (state.st_ino, state.st_size, state.st_mtime_ns, state.st_ctime_ns) if regular else None


def sources(cellar: Path) -> tuple[list[Found], list[Trouble]]:
    """The files to read, in the order of their names, and the trouble with those that cannot be read."""
    found: list[Found] = []
    troubles = _linked(cellar / "events", "it is read, but nothing is written through it")
    for name in _names(cellar / "events", troubles):
        if name.startswith(".") or name.endswith(HALF_WRITTEN) or ENDING not in name.lower():
            continue
        _sort(cellar / "events" / name, found, troubles)
    return found, troubles


def _linked(folder: Path, but: str) -> list[Trouble]:
    if not os.path.islink(folder):
        return []
    what = f"is a symbolic link, not a folder: {but}"
    return [Trouble(folder.name, None, what, "special", back="put the folder itself in its place")]


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


def kept_aside(cellar: Path) -> list[Trouble]:
    """One trouble for each file in `aside` that nobody has acknowledged."""
    if linked := _linked(cellar / "aside", "nothing is set aside through it"):
        return linked
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
