"""The durable append: lock, one write, fsync, and only then the word that it is saved."""

import os
import re
from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from mustwatch.ledger.clock import next_id, ticks
from mustwatch.ledger.crc import sealed
from mustwatch.ledger.device import Identity
from mustwatch.ledger.events import FORMAT_VERSION, Event, Unreadable, encode, parse, stamped
from mustwatch.ledger.files import Special, make_folder, opened, plain, sync, sync_folder, write_all, write_whole
from mustwatch.ledger.sources import ENDING, sources, stamps
from mustwatch.ledger.tail import LONGEST_EVENT, Tail, blocks, cut_name, tail_of
from mustwatch.ledger.trouble import NotKnownSaved, NotSaved

LOOK_ELSEWHERE = 1 << 13
SURROGATE = re.compile(rb"\\u[dD][89a-fA-F]")


class Writer:
    """Appends to this device's file of one cellar, and to nothing else."""

    def __init__(self, cellar: Path, identity: Identity) -> None:
        self.cellar = cellar
        self.identity = identity
        self._folder = os.path.join(cellar, "events")
        self._ready = False
        self._newest: dict[str, tuple[object, str | None, int]] = {}
        self._left: tuple[object, tuple[int, str] | None] = (None, None)

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
        if not os.path.isdir(self._folder):
            raise NotSaved(f"not saved: {self.cellar} has no events folder; `init` makes a cellar")
        newest = self._newest_elsewhere()
        device, handle, tail, last = self._own()
        try:
            if tail.version > FORMAT_VERSION:
                raise NotSaved(_newer(tail.version))
            newest = max((i for i in (newest, tail.newest, last and last[1]) if i and ticks(i)), default=None)
            saved, data = _stamped(events, now, newest, last[0] if last else 0, keep_ids)
            self._write(handle, tail, data)
            self._sync(handle, self._folder if tail.size == 0 else None)
            self._remember(device, handle, saved[-1])
        finally:
            os.close(handle)
        return saved

    def _own(self) -> tuple[str, int, Tail, tuple[int, str] | None]:
        """This device's file, opened and fit to be added to; a new one where the old is no longer ours."""
        device, known = self.identity.device(), None
        if device is not None:
            handle = self._opened(device)
            if handle is not None:
                tail, last = self._mended(device, handle)
                wrote = self.identity.last_written(device)
                if wrote is None or wrote[1] == (last and last[1]) or tail.holds(wrote[1]):
                    return device, handle, tail, last or wrote
                os.close(handle)
                known = wrote[1]
        self._mend_former()
        device = self.identity.renew()
        handle = opened(self._path(device), os.O_RDWR | os.O_APPEND | os.O_CREAT | os.O_EXCL)
        os.fchmod(handle, 0o600)
        return device, handle, Tail(0), (0, known) if known else None

    def _path(self, device: str) -> str:
        return os.path.join(self._folder, device + ENDING)

    def _opened(self, device: str) -> int | None:
        try:
            return opened(self._path(device), os.O_RDWR | os.O_APPEND)
        except FileNotFoundError:
            return None
        except Special as error:
            raise NotSaved(f"not saved: events/{device}{ENDING} {plain(error)}") from None

    def _mended(self, device: str, handle: int) -> tuple[Tail, tuple[int, str] | None]:
        found = os.fstat(handle)
        if self._left[0] == (device, found.st_ino, found.st_size):
            return Tail(found.st_size, (), found.st_size), self._left[1]
        tail = tail_of(handle)
        if tail.torn:
            self._set_aside(device, handle, tail)
            tail = tail_of(handle)
        return tail, tail.last

    def _mend_former(self) -> None:
        """Torn ends of files this machine wrote for another copy of the cellar: nobody else can mend them."""
        for source in sources(self.cellar)[0]:
            if source.copy or source.device is None or not self.identity.ours(source.device):
                continue
            with suppress(FileNotFoundError):
                handle = opened(source.path, os.O_RDWR | os.O_APPEND)
                try:
                    tail, _ = self._mended(source.device, handle)
                    if tail.whole:
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
        """The newest id of every file, from their ends alone; ends already looked at are not read again."""
        newest = None
        for name, stamp in stamps(self._folder):
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

    def _write(self, handle: int, tail: Tail, data: bytes) -> None:
        """All of it or nothing: a write that fails half-way is taken back."""
        try:
            write_all(handle, b"\n" + data if tail.whole else data)
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
        try:
            sync(handle)
            if new_in is not None:
                sync_folder(new_in)
        except OSError as error:
            self._left = (None, None)
            raise NotKnownSaved(
                f"not known to be saved: the disk did not confirm the write ({plain(error)}); "
                "look at `events` before entering it again, and at the disk"
            ) from None

    def _remember(self, device: str, handle: int, event: Event) -> None:
        found = os.fstat(handle)
        last = (event.seq or 0, event.id)
        self._left = ((device, found.st_ino, found.st_size), last)
        self.identity.note_written(device, *last)
        stamp = found.st_ino, found.st_size, found.st_mtime_ns, found.st_ctime_ns
        self._newest[f"{device}{ENDING}"] = (stamp, event.id if ticks(event.id) else None, 1)


def _stamped(
    events: Sequence[Event], now: datetime, newest: str | None, seq: int, keep_ids: bool
) -> tuple[tuple[Event, ...], bytes]:
    saved, lines = [], []
    for event in events:
        seq += 1
        if keep_ids and event.id:
            event = stamped(event, event.id, seq)
        else:
            newest = next_id(newest, now)
            event = stamped(event, newest, seq)
        line = line_of(event)
        # A copy of a copy would cost more than the line; this one is nobody's yet.
        event.__dict__["crc"] = line[-11:-3].decode()
        saved.append(event)
        lines.append(line)
    return tuple(saved), b"".join(lines)


def line_of(event: Event) -> bytes:
    """The line of an event with checksum and line end. Raises ValueError where it cannot be one."""
    line = sealed(encode(event))
    if len(line) > LONGEST_EVENT:
        raise ValueError(f"an event may be {LONGEST_EVENT >> 10} KiB long, this one is {len(line) >> 10} KiB")
    if SURROGATE.search(line):
        try:
            parse(line)
        except Unreadable:
            raise ValueError("the text holds a character that is not valid Unicode") from None
    return line + b"\n"


def _newer(version: int) -> str:
    return f"not saved: a newer mustwatch wrote format {version} here; this one reads format {FORMAT_VERSION} only"
