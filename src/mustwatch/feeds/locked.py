"""One at a time: what must not run twice for one cellar on one machine."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from mustwatch.ledger.files import own_folder


@contextmanager
def alone(folder: Path, what: str) -> Iterator[None]:
    """Holds a lock of that name. Raises ValueError where another process holds it."""
    own_folder(folder)
    path = folder / f"{what.replace(' ', '')}.lock"
    handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC | os.O_NOFOLLOW, 0o600)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise ValueError(f"another `{what}` runs for this cellar") from None
        yield
    finally:
        os.close(handle)
