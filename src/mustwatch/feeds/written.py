"""A file written whole or not at all, and never over what this program did not write."""

import os
from pathlib import Path

BEGINNING = 512  # bytes by which a file of ours is known


class Unwritable(ValueError):
    """The file cannot be written over; its text is the one line that says why."""


def refuse_others(path: Path, ours: bytes) -> None:
    """Raises Unwritable where something stands at `path` that does not hold `ours` near its beginning."""
    if path.is_symlink() or (path.exists() and not path.is_file()):
        raise Unwritable("it is no plain file")
    if not path.exists():
        return
    with open(path, "rb") as file:
        if ours not in file.read(BEGINNING):
            raise Unwritable("what is there was not written by this program; move it away, or name another file")


def put(path: Path, content: bytes) -> None:
    """The content at `path`, all of it or none: written beside it, synced, and moved over. Raises OSError."""
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with open(beside, "xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, path)
    finally:
        beside.unlink(missing_ok=True)
