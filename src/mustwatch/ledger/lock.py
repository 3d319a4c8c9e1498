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
HINT_BYTES = 128


class Lock:
    """A lock of one cellar on this machine; it ends with the process that holds it."""

    def __init__(self, path: Path) -> None:
        self._name = os.fspath(path)
        self._handle: int | None = None
        self._thread = threading.Lock()

    def acquire(self, patience_s: float = PATIENCE_S) -> None:
        """Take the lock. Raises NotSaved where another holds it for too long, OSError as the system does."""
        if not self._thread.acquire(blocking=False) and not self._thread.acquire(timeout=patience_s):
            raise NotSaved("not saved: another part of this program holds the cellar")
        try:
            if not self._free():
                self._waited(patience_s)
        except BaseException:
            self._thread.release()
            raise

    def release(self) -> None:
        """Let the lock go."""
        try:
            fcntl.flock(self._open(), fcntl.LOCK_UN)
        finally:
            self._thread.release()

    @contextmanager
    def held(self, patience_s: float = PATIENCE_S) -> Iterator[None]:
        """Hold the lock for a while; raises as `acquire`."""
        self.acquire(patience_s)
        try:
            yield
        finally:
            self.release()

    def hint(self) -> bytes:
        """What the last writer left, as it is on disk (only while held)."""
        return os.pread(self._open(), HINT_BYTES, 0)

    def leave(self, hint: bytes) -> None:
        """Leave a hint for the next writer. Not synced: an old hint costs nothing but a longer look."""
        os.pwrite(self._open(), hint, 0)

    def _free(self) -> bool:
        """Whether the lock could be taken at once; a lock on a file deleted meanwhile would keep nobody out."""
        handle = self._open()
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        if os.fstat(handle).st_nlink:
            return True
        os.close(handle)
        self._handle = None
        return False

    def _waited(self, patience_s: float) -> None:
        until, wait_s = time.monotonic() + patience_s, 0.001
        while not self._free():
            if time.monotonic() > until:
                raise NotSaved("not saved: another program has held this cellar too long")
            time.sleep(wait_s)
            wait_s = min(wait_s * 1.5, 0.02)

    def _open(self) -> int:
        if self._handle is None:
            self._handle = os.open(self._name, os.O_RDWR | os.O_CREAT | NO_LINK, 0o600)
            if not os.fstat(self._handle).st_mode & 0o200:
                os.fchmod(self._handle, 0o600)  # a umask took even its owner's rights
        return self._handle

    def __del__(self) -> None:
        if self._handle is not None:
            os.close(self._handle)
