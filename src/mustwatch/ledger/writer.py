"""The durable append: lock, one write, fsync, and only then the word that it is saved."""

import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from mustwatch.ledger.clock import ticks
from mustwatch.ledger.device import Identity
from mustwatch.ledger.events import FORMAT_VERSION, Event
from mustwatch.ledger.files import (
    Special,
    make_folder,
    opened,
    opened_with_state,
    plain,
    sync,
    sync_folder,
    write_all,
    write_whole,
)  # fmt: skip
from mustwatch.ledger.sources import ENDING, sources, stamps
from mustwatch.ledger.stamp import stamped_lines
from mustwatch.ledger.tail import Tail, blocks, cut_name, tail_of
from mustwatch.ledger.trouble import NotKnownSaved, NotSaved

LOOK_ELSEWHERE = 1 << 13


class Writer:
    """Appends to this device's file of one cellar, and to nothing else."""

    def __init__(self, cellar: Path, identity: Identity) -> None:
        self.cellar = cellar
        self.identity = identity
        self._folder = os.path.join(cellar, "events")
        self._ready = False
        self._newest: dict[str, tuple[object, str | None, int]] = {}
        self._left: Left | None = None
        self._hint = ""

    def append(self, events: Sequence[Event], now: datetime, keep_ids: bool = False) -> tuple[Event, ...]:
        """The events as saved. Raises ValueError for one that cannot be a line, NotSaved, NotKnownSaved."""
        if not events:
            return ()
        try:
            if not self._ready:
                self.identity.prepare()
                self._ready = True
            with self.identity.lock.held():
                return self._locked(events, now, keep_ids)
        except NotSaved:
            raise
        except Special as error:
            raise NotSaved(f"not saved: {plain(error)}") from None
        except OSError as error:
            self._ready = False
            raise NotSaved(f"not saved: {plain(error)} ({error.filename or self.cellar})") from None

    def _locked(self, events: Sequence[Event], now: datetime, keep_ids: bool) -> tuple[Event, ...]:
        around = self._newest_elsewhere()
        own = self._own()
        try:
            if own.tail.version > FORMAT_VERSION:
                raise NotSaved(_newer(own.tail.version))
            newest = max((i for i in (around, own.newest) if i and ticks(i)), default=None)
            saved, data, newest = stamped_lines(events, now, newest, own.seq, keep_ids)
            written = self._write(own.handle, own.tail, data)
            self._sync(own.handle, self._folder if own.tail.size == 0 else None)
        finally:
            os.close(own.handle)
        self._remember(own, written, saved[-1], newest)
        return saved

    def _own(self) -> "Own":
        """This device's file, opened and fit to be added to; a new one where the old is no longer ours."""
        wrote, known = self.identity.last_written(), None
        # A hint in the name this process writes under says that nobody has renewed it meanwhile.
        same = wrote is not None and self._left is not None and wrote.device == self._left.device
        device = self._left.device if same and self._left else self.identity.device()
        if wrote is not None and wrote.device != device:
            wrote = None
        found = self._opened(device) if device else None
        if device and found:
            try:
                own = self._mended(device, *found)
                if wrote is None or self._follows(own, wrote.id):
                    return (
                        replace(own, seq=wrote.seq) if wrote and wrote.id == own.last and wrote.seq > own.seq else own
                    )
                known = wrote.id
            except BaseException:
                os.close(found[0])
                raise
            os.close(found[0])
        return self._begun(known)

    def _follows(self, own: "Own", wrote: str) -> bool:
        """Whether the file holds what this machine wrote last: else it was set back, or is another's too."""
        as_left, self._hint = own.as_left and wrote == self._hint, wrote
        return as_left or wrote == own.last or own.tail.holds(wrote)

    def _begun(self, known: str | None) -> "Own":
        """A new file under a new name; `known` is the last id this machine gave."""
        self._mend_former()
        device = self.identity.renew()
        try:
            found = opened_with_state(self._path(device), os.O_RDWR | os.O_APPEND | os.O_CREAT | os.O_EXCL)
        except FileNotFoundError:
            raise NotSaved(_no_cellar(self.cellar)) from None
        os.fchmod(found[0], 0o600)
        return Own(device, found[0], found[1].st_ino, Tail(0), 0, known, known)

    def _path(self, device: str) -> str:
        return os.path.join(self._folder, device + ENDING)

    def _opened(self, device: str) -> tuple[int, os.stat_result] | None:
        try:
            return opened_with_state(self._path(device), os.O_RDWR | os.O_APPEND)
        except FileNotFoundError:
            return None
        except Special as error:
            raise NotSaved(f"not saved: events/{device}{ENDING} {plain(error)}") from None

    def _mended(self, device: str, handle: int, state: os.stat_result) -> "Own":
        left = self._left
        if left and (left.device, left.inode, left.size) == (device, state.st_ino, state.st_size):
            tail = Tail(left.size, (), left.size)
            return Own(device, handle, left.inode, tail, left.seq, left.last, left.newest, as_left=True)
        tail = tail_of(handle)
        if tail.torn:
            self._set_aside(device, handle, tail)
            tail = tail_of(handle)
        seq, last = tail.last or (0, None)
        return Own(device, handle, state.st_ino, tail, seq, last, tail.newest or last)

    def _mend_former(self) -> None:
        """Torn ends of files this machine wrote for another copy of the cellar: nobody else can mend them."""
        for source in sources(self.cellar)[0]:
            if source.copy or source.device is None or not self.identity.ours(source.device):
                continue
            with suppress(FileNotFoundError):
                handle, state = opened_with_state(source.path, os.O_RDWR | os.O_APPEND)
                try:
                    if self._mended(source.device, handle, state).tail.whole:
                        write_all(handle, b"\n")
                        sync(handle)
                finally:
                    os.close(handle)

    def _set_aside(self, stem: str, handle: int, tail: Tail) -> None:
        """Copy a torn end to `aside`, durably, and only then cut it off."""
        aside = self.cellar / "aside"
        make_folder(aside)
        path = aside / cut_name(stem, handle, tail)
        if not path.exists() or path.stat().st_size != tail.size - tail.loose_from:
            write_whole(path, blocks(handle, tail.loose_from, tail.size))
        os.ftruncate(handle, tail.loose_from)
        sync(handle)

    def _newest_elsewhere(self) -> str | None:
        """The newest id of every other file, from their ends alone; an end already looked at is not read again."""
        newest = None
        try:
            found = stamps(self._folder, self._left.device + ENDING if self._left else "")
        except (FileNotFoundError, NotADirectoryError):
            raise NotSaved(_no_cellar(self.cellar)) from None
        for name, stamp in found:
            seen = self._newest.get(name)
            if seen is None or seen[0] != stamp:
                seen = self._look(os.path.join(self._folder, name), stamp)
                self._newest[name] = seen
            if seen[2] > FORMAT_VERSION:
                raise NotSaved(_newer(seen[2]))
            newest = max((i for i in (newest, seen[1]) if i), default=None)
        return newest

    def _look(self, path: str, stamp: object) -> tuple[object, str | None, int]:
        try:
            handle = opened(path)
        except OSError:
            return stamp, None, 1
        try:
            tail = tail_of(handle, LOOK_ELSEWHERE)
        finally:
            os.close(handle)
        return stamp, tail.newest, tail.version

    def _write(self, handle: int, tail: Tail, data: bytes) -> int:
        """All of it or nothing, and how much: a write that fails half-way is taken back."""
        if tail.whole:
            data = b"\n" + data
        try:
            write_all(handle, data)
            return len(data)
        except BaseException as error:
            self._take_back(handle, tail.size, error)
            raise

    def _take_back(self, handle: int, size: int, error: BaseException) -> None:
        why = plain(error) if isinstance(error, OSError) else "interrupted"
        try:
            os.ftruncate(handle, size)
            with suppress(OSError):
                sync(handle)
        except OSError as second:
            told = f"not saved: {why}; a part was written and could not be taken back ({plain(second)})"
            raise NotSaved(f"{told}; the next save sets it aside") from None
        if isinstance(error, OSError):
            raise NotSaved(f"not saved: {why}; nothing was changed") from None

    def _sync(self, handle: int, new_in: str | None) -> None:
        left, self._left = self._left, None
        try:
            sync(handle)
            if new_in is not None:
                sync_folder(new_in)
            self._left = left
        except OSError as error:
            raise NotKnownSaved(
                f"not known to be saved: the disk did not confirm the write ({plain(error)}); "
                "look at `events` before entering it again, and at the disk"
            ) from None

    def _remember(self, own: "Own", written: int, event: Event, newest: str | None) -> None:
        self._left = Left(own.device, own.inode, own.tail.size + written, event.seq or 0, event.id, newest)
        if self.identity.note_written(own.device, event.seq or 0, event.id):
            self._hint = event.id


@dataclass(frozen=True, slots=True)
class Left:
    """How this process left its file: whoever finds it so need not read it."""

    device: str
    inode: int
    size: int
    seq: int
    last: str
    newest: str | None


@dataclass(frozen=True, slots=True)
class Own:
    """This device's file, open: its end, its highest number, its last and its newest id."""

    device: str
    handle: int
    inode: int
    tail: Tail
    seq: int
    last: str | None
    newest: str | None
    as_left: bool = False


def _no_cellar(cellar: Path) -> str:
    return f"not saved: {cellar} has no events folder; `init` makes a cellar"


def _newer(version: int) -> str:
    return f"not saved: a newer mustwatch wrote format {version} here; this one reads format {FORMAT_VERSION} only"
