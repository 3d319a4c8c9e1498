"""The ledger of a cellar: read as a whole, added to at its end, never changed.

What only some commands ask for (saving, mending, copying) is loaded when it is asked for.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Collection, Iterable, Iterator, Sequence
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from mustwatch.ledger.events import Event
from mustwatch.ledger.files import Special, make_folder, opened, plain, sync_folder, write_whole
from mustwatch.ledger.following import Fingerprint, Known, State
from mustwatch.ledger.reader import contents
from mustwatch.ledger.sources import ENDING
from mustwatch.ledger.trouble import Contents, NotKnownSaved, NotSaved, Trouble, Unusable, as_synced

if TYPE_CHECKING:
    from mustwatch.ledger.backup import Backup
    from mustwatch.ledger.device import Identity
    from mustwatch.ledger.events import Witnessed
    from mustwatch.ledger.health import Health
    from mustwatch.ledger.intake import Taken
    from mustwatch.ledger.repair import Mend
    from mustwatch.ledger.writer import Writer

__all__ = ["Contents", "Ledger", "NotKnownSaved", "NotSaved", "Trouble", "Unusable"]
SETTINGS = "cellar.toml"
AT_HOME = (".git", ".st")  # of git and of a folder sync
LARGEST_SETTINGS = 1 << 20
GIT_ATTRIBUTES = b"""# Each device writes its own file of events; lines are added, never changed.
events/*.jsonl -text merge=union
aside/* -text -diff
"""


class Ledger:
    """The events of one cellar on disk. Reading never writes there; only this device's file is added to."""

    def __init__(self, cellar: Path, *, state: Path | None = None) -> None:
        self.cellar = Path(cellar)
        self._state = state
        self._read_only: str | None = None
        self._known: Known | None = None

    @cached_property
    def identity(self) -> Identity:
        """This machine's place in the cellar."""
        from mustwatch.ledger.device import Identity
        from mustwatch.ledger.places import state_folder

        return Identity(self._state or state_folder(), self.cellar)

    @cached_property
    def _writer(self) -> Writer:
        from mustwatch.ledger.writer import Writer

        return Writer(self.cellar, self.identity)

    @staticmethod
    def make(cellar: Path, settings_text: str) -> None:
        """Make a new cellar durably. Raises Unusable where one is there already, NotSaved."""
        cellar = Path(cellar)
        if os.path.lexists(cellar / SETTINGS) or os.path.lexists(cellar / "events"):
            raise Unusable(f"{cellar} is a cellar already; nothing was changed")
        if cellar.exists() and not cellar.is_dir():
            raise Unusable(f"{cellar} is not a folder")
        try:
            _make_folders(cellar)
            make_folder(cellar / "events")
            if not os.path.lexists(cellar / ".gitattributes"):
                write_whole(cellar / ".gitattributes", [GIT_ATTRIBUTES])
            write_whole(cellar / SETTINGS, [settings_text.encode("utf-8")])
        except OSError as error:
            raise NotSaved(f"the cellar was not made: {plain(error)} ({cellar})") from None

    def strangers(self) -> list[str]:
        """The names of what lies in the folder and is none of a cellar's, by name; a sync's or git's own are not."""
        try:
            return sorted(name for name in os.listdir(self.cellar) if not name.startswith(AT_HOME))
        except OSError:
            return []

    def settings_text(self) -> str:
        """The text of cellar.toml. Raises Unusable with one line saying what to do."""
        path = self.cellar / SETTINGS
        try:
            with os.fdopen(opened(path), "rb") as handle:
                text = handle.read(LARGEST_SETTINGS + 1)
            if len(text) > LARGEST_SETTINGS:
                raise Unusable(f"{path} is larger than any settings are")
            return text.decode("utf-8-sig")
        except FileNotFoundError:
            raise Unusable(f"{path} is missing; where there is no cellar, `mustwatch init` makes one") from None
        except Special as error:
            raise Unusable(f"{path} {plain(error)}") from None
        except OSError as error:
            raise Unusable(f"{path} cannot be read: {plain(error)}") from None
        except UnicodeDecodeError:
            raise Unusable(f"{path} is not UTF-8 text") from None

    def read(self, until: datetime | None = None) -> Contents:
        """All events in their order, and what was wrong with the files; `until` as of `contents`."""
        fingerprint = self.fingerprint()
        if until is None and self._known is not None and self._known.fingerprint == fingerprint:
            found = self._known.contents
        else:
            found = contents(self.cellar, until)
        self._known = Known(fingerprint, found) if until is None else None
        self._read_only = found.read_only
        if any(trouble.kind == "torn" for trouble in found.troubles):
            return found._replace(troubles=as_synced(found.troubles, self.identity.ours))
        return found

    def append(self, events: Sequence[Event], now: datetime) -> tuple[Event, ...]:
        """The events as saved, with id and number, once they are safe on disk: all of them or none.

        Raises ValueError for an event that cannot be a line, NotSaved where nothing was added,
        NotKnownSaved where the disk did not confirm it.
        """
        if self._read_only:
            raise NotSaved(f"not saved: {self._read_only}")
        known, self._known = self._known, None
        before = self.fingerprint() if known else ()
        saved = self._writer.append(events, now)
        if known is not None:
            own = self.cellar / "events" / f"{self.identity.device()}{ENDING}"
            self._known = known.with_saved(saved, own, before, self.fingerprint())
        return saved

    def import_events(self, events: Sequence[Event], now: datetime) -> Taken:
        """Add events that may carry ids: those here already are left out. Raises Clash, and as `append`."""
        from mustwatch.ledger.intake import taken

        if self._read_only:
            raise NotSaved(f"not saved: {self._read_only}")
        return taken(self.cellar, self._writer, events, now)

    def mends(self, everything: bool = False) -> list[Mend]:
        """What can be mended, said exactly; nothing is done."""
        from mustwatch.ledger.repair import mends

        return mends(self.cellar, self.identity, everything)

    def mend(self, mend: Mend, now: datetime) -> str:
        """Mend one thing; what was done. Raises Unusable, NotSaved, OSError."""
        from mustwatch.ledger.intake import only_in_copy
        from mustwatch.ledger.repair import mended
        from mustwatch.ledger.visible import counted

        added = 0
        if mend.what == "copy":
            added = len(self._writer.append(only_in_copy(self.cellar, mend.file), now, keep_ids=True))
        done = mended(self.cellar, self.identity, mend)
        return f"{counted(added, 'event')} taken in, {done}" if mend.what == "copy" else done

    def dropping(self, file: str, line: int, everything: bool = False) -> Mend:
        """The mend that sets one line of a file aside. Raises Unusable."""
        from mustwatch.ledger.repair import dropping

        return dropping(self.cellar, self.identity, file, line, everything)

    def damaged_elsewhere(self) -> list[str]:
        """The names of damaged files that other devices write."""
        from mustwatch.ledger.repair import not_ours

        return not_ours(self.cellar, self.identity)

    def backup(self, target: Path, now: datetime) -> Backup:
        """A verified copy of the whole cellar. Raises Unusable, NotSaved; then nothing is left behind."""
        from mustwatch.ledger.backup import backed_up

        return backed_up(self.cellar, self.identity, target, now)

    def own_lines_backwards(self) -> Iterator[bytes]:
        """The sound lines of this device's file, newest first; nothing where it has none yet."""
        from mustwatch.ledger.tail import lines_backwards

        device = self.identity.device()
        return lines_backwards(self.cellar / "events" / f"{device}.jsonl") if device else iter(())

    def lines(self, troubles: list[Trouble] | None = None) -> Iterator[tuple[str, bytes]]:
        """The id and line of every event in order, one at a time, doubles left out."""
        from mustwatch.ledger.merge import ordered_lines

        return ordered_lines(self.cellar, [] if troubles is None else troubles)

    def health(self, now: datetime) -> Health:
        """The state of every file, every line of it looked at. Writes nothing."""
        from mustwatch.ledger.health import health

        return health(self.cellar, self.identity, now)

    def missing(self, notes: Iterable[Witnessed], troubles: Collection[Trouble]) -> list[Trouble]:
        """What was seen in a file once and is there no more; what is there now is remembered.

        notes: those of the ledger, in order; troubles: what is wrong with the files.
        """
        from mustwatch.ledger.memory import missing

        return missing(self.cellar, self.identity, notes, troubles)

    def witness(self, now: datetime) -> Event | None:
        """The note on other devices' files that this one should write now, None where there is none to write."""
        from mustwatch.ledger.memory import remembered, seen_in
        from mustwatch.ledger.witness import due

        return due(seen_in(self.cellar), remembered(self.identity), self.identity.device(), now)

    def fingerprint(self) -> Fingerprint:
        """What changes whenever anything in the cellar may have: from file states alone, no reading."""
        seen: list[State] = []
        for folder in (self.cellar, self.cellar / "events", self.cellar / "aside"):
            try:
                with os.scandir(folder) as entries:
                    seen.extend(_state(entry) for entry in entries if not entry.name.startswith("."))
            except OSError as error:
                seen.append((str(folder), error.errno or 0, 0, 0, 0))
        return tuple(sorted(seen))


def _state(entry: os.DirEntry[str]) -> State:
    try:
        found = entry.stat(follow_symlinks=False)
    except OSError:
        return entry.path, 0, 0, 0, 0
    if stat.S_ISDIR(found.st_mode):
        return entry.path, found.st_ino, 0, 0, 0
    return entry.path, found.st_ino, found.st_size, found.st_mtime_ns, found.st_ctime_ns


def _make_folders(path: Path) -> None:
    """Make a folder and those above it, each durably."""
    missing = [each for each in (path, *path.parents) if not each.exists()]
    for each in reversed(missing):
        make_folder(each)
    sync_folder(path)
