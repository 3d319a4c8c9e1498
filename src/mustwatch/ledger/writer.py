"""The durable append: lock, one write, fsync, and only then the word that it is saved."""

import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
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
    sync_data,
    sync_folder,
    write_all,
    write_whole,
)  # fmt: skip
from mustwatch.ledger.memory import remembered, write
from mustwatch.ledger.sources import ENDING, LINKED, UNLINK, Others, sources
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
        self._left: Own | None = None
        self._others = Others(self._folder)

    def append(self, events: Sequence[Event], now: datetime, keep_ids: bool = False) -> tuple[Event, ...]:
        """The events as saved. Raises ValueError for one that cannot be a line, NotSaved, NotKnownSaved."""
        if not events:
            return ()
        try:
            if not self._ready:
                self.identity.prepare()
                self._ready = True
            self.identity.lock.acquire()
            try:
                return self._locked(events, now, keep_ids)
            finally:
                self.identity.lock.release()
        except NotSaved:
            raise
        except Special as error:
            raise NotSaved(f"not saved: {plain(error)}") from None
        except OSError as error:
            self._ready = False
            raise NotSaved(f"not saved: {plain(error)} ({error.filename or self.cellar})") from None

    def _locked(self, events: Sequence[Event], now: datetime, keep_ids: bool) -> tuple[Event, ...]:
        around = self._newest_elsewhere()
        own = self._as_left() or self._own()
        self._left = None
        try:
            if own.version > FORMAT_VERSION:
                raise NotSaved(_newer(own.version))
            newest = around if own.newest is None or (around and around > own.newest) else own.newest
            saved, data, newest = stamped_lines(events, now, newest, own.seq, keep_ids)
            written = self._write(own, data)
            self._sync(own.handle, self._folder if own.size == 0 else None)
        finally:
            os.close(own.handle)
        self._remember(own, written, saved[-1], newest)
        return saved

    def _as_left(self) -> "Own | None":
        """This device's file as this process left it, opened; None where anybody has been there since."""
        own = self._left
        found = self._opened(own.device) if own else None
        if own is None or found is None:
            return None
        own.handle, state = found
        if (state.st_ino, state.st_size) == (own.inode, own.size):
            return own
        os.close(own.handle)
        return None

    def _own(self) -> "Own":
        """This device's file, opened and fit to be added to; a new one where the old is no longer ours."""
        device, known = self.identity.device(), None
        found = self._opened(device) if device else None
        if device and found:
            try:
                own, tail = self._mended(device, *found)
                wrote = self.identity.last_written()
                if wrote is None or wrote.device != device or wrote.id == own.last:
                    own.seq = max(own.seq, wrote.seq if wrote and wrote.id == own.last else 0)
                    return own
                if tail.holds(wrote.id):
                    return own
                known = wrote.id
            except BaseException:
                os.close(found[0])
                raise
            os.close(found[0])
        return self._begun(known)

    def _begun(self, known: str | None) -> "Own":
        """A new file under a new name; `known` is the last id this machine gave."""
        self._mend_former()
        memory = remembered(self.identity)
        if memory.files and not memory.fault:
            write(self.identity, memory)  # the word of the last save gives way to that of the new file
        device = self.identity.renew()
        try:
            found = opened_with_state(self._path(device), os.O_RDWR | os.O_APPEND | os.O_CREAT | os.O_EXCL)
        except FileNotFoundError:
            raise NotSaved(_no_cellar(self.cellar)) from None
        os.fchmod(found[0], 0o600)
        return Own(device, found[0], found[1].st_ino, 0, newest=known)

    def _path(self, device: str) -> str:
        return f"{self._folder}/{device}{ENDING}"

    def _opened(self, device: str) -> tuple[int, os.stat_result] | None:
        try:
            found = opened_with_state(self._path(device), os.O_RDWR | os.O_APPEND)
        except FileNotFoundError:
            return None
        except Special as error:
            raise NotSaved(f"not saved: events/{device}{ENDING} {plain(error)}") from None
        if found[1].st_nlink > 1:
            os.close(found[0])
            raise NotSaved(f"not saved: events/{device}{ENDING} {LINKED}; {UNLINK}")
        return found

    def _mended(self, device: str, handle: int, state: os.stat_result) -> "tuple[Own, Tail]":
        """What the end of a file tells, once a torn end is set aside."""
        tail = tail_of(handle)
        if tail.torn:
            self._set_aside(device, handle, tail)
            tail = tail_of(handle)
        seq, last = tail.last or (0, None)
        newest = max((i for i in (tail.newest, last) if i and ticks(i)), default=None)
        return Own(device, handle, state.st_ino, tail.size, tail.whole, tail.version, seq, last, newest), tail

    def _mend_former(self) -> None:
        """Torn ends of files this machine wrote for another copy of the cellar: nobody else can mend them."""
        for source in sources(self.cellar)[0]:
            if source.copy or source.device is None or not self.identity.ours(source.device):
                continue
            with suppress(FileNotFoundError):
                handle, state = opened_with_state(source.path, os.O_RDWR | os.O_APPEND)
                try:
                    if state.st_nlink > 1:
                        continue
                    if self._mended(source.device, handle, state)[0].whole:
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
            found = self._others.stamps(self._left.device + ENDING if self._left else "")
        except (FileNotFoundError, NotADirectoryError):
            raise NotSaved(_no_cellar(self.cellar)) from None
        for name, stamp in found:
            seen = self._newest.get(name)
            if seen is None or seen[0] != stamp:
                seen = self._look(os.path.join(self._folder, name), stamp)
                self._newest[name] = seen
            if seen[2] > FORMAT_VERSION:
                raise NotSaved(_newer(seen[2]))
            if seen[1] and (newest is None or seen[1] > newest):
                newest = seen[1]
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

    def _write(self, own: "Own", data: bytes) -> int:
        """All of it or nothing, and how much: a write that fails half-way is taken back."""
        if own.whole:
            data = b"\n" + data
        try:
            write_all(own.handle, data)
            return len(data)
        except BaseException as error:
            self._take_back(own.handle, own.size, error)
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
        try:
            if new_in is None:
                sync_data(handle)
            else:
                sync(handle)
                sync_folder(new_in)
        except OSError as error:
            raise NotKnownSaved(
                f"not known to be saved: the disk did not confirm the write ({plain(error)}); "
                "look at `events` before entering it again, and at the disk"
            ) from None

    def _remember(self, own: "Own", written: int, event: Event, newest: str | None) -> None:
        """Keep how the file was left, here and as a hint for the next process."""
        own.size += written
        own.whole = False
        own.seq, own.last, own.newest = event.seq or 0, event.id, newest
        self.identity.note_written(own.device, own.seq, event.id)
        self._left = own


@dataclass(slots=True)
class Own:
    """This device's file: how long it is, its highest number, its last and its newest id.

    whole: its last line is an event that only lacks its line end.
    """

    device: str
    handle: int
    inode: int
    size: int
    whole: bool = False
    version: int = 1
    seq: int = 0
    last: str | None = None
    newest: str | None = None


def _no_cellar(cellar: Path) -> str:
    return f"not saved: {cellar} has no events folder; `init` makes a cellar"


def _newer(version: int) -> str:
    return f"not saved: a newer mustwatch wrote format {version} here; this one reads format {FORMAT_VERSION} only"
