"""One writer at a time: a lock in local state, which also holds a hint of what was written last."""

import fcntl
import os
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from mustwatch.ledger.files import NO_LINK
from mustwatch.ledger.trouble import NotSaved

PATIENCE_S = 30.0
HINT_BYTES = 256


class Lock:
    """A lock of one cellar on this machine; it ends with the process that holds it."""

    def __init__(self, path: Path) -> None:
        self._name = os.fspath(path)
        self._handle: int | None = None
        self._opened = (0, 0)
        self._thread = threading.Lock()

    @contextmanager
    def held(self, patience_s: float = PATIENCE_S) -> Iterator[None]:
        """Hold the lock. Raises NotSaved where another holds it for too long, OSError as the system does."""
        if not self._thread.acquire(timeout=patience_s):
            raise NotSaved("not saved: another part of this program holds the cellar")
        try:
            handle = self._taken(patience_s)
            try:
                yield
            finally:
                fcntl.flock(handle, fcntl.LOCK_UN)
        finally:
            self._thread.release()

    def hint(self) -> bytes:
        """What the last writer left (only while held); empty where there was none."""
        return os.pread(self._handle or 0, HINT_BYTES, 0).strip(b"\0 \n")

    def leave(self, hint: bytes) -> None:
        """Leave a hint for the next writer. Not synced: an old hint costs nothing but a longer look."""
        os.pwrite(self._handle or 0, hint[:HINT_BYTES].ljust(HINT_BYTES), 0)

    def _taken(self, patience_s: float) -> int:
        until, wait_s = time.monotonic() + patience_s, 0.001
        while True:
            handle = self._open()
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                if time.monotonic() > until:
                    raise NotSaved("not saved: another program has held this cellar too long") from None
                time.sleep(wait_s)
                wait_s = min(wait_s * 1.5, 0.02)
                continue
            if self._current():
                return handle
            os.close(handle)
            self._handle = None

    def _open(self) -> int:
        if self._handle is None:
            self._handle = os.open(self._name, os.O_RDWR | os.O_CREAT | NO_LINK, 0o600)
            state = os.fstat(self._handle)
            self._opened = (state.st_dev, state.st_ino)
        return self._handle

    def _current(self) -> bool:
        """A lock on a file that was deleted meanwhile would keep nobody out."""
        try:
            state = os.stat(self._name, follow_symlinks=False)
        except FileNotFoundError:
            return False
        return (state.st_dev, state.st_ino) == self._opened

    def __del__(self) -> None:
        if self._handle is not None:
            os.close(self._handle)
