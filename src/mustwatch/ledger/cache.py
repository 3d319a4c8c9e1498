"""Digests of large files kept between runs: a convenience, thrown away at the least doubt.

A digest is used when its own checksum is right and the file has the same inode, size and times; where
the file has only grown, when the checksum of all its earlier bytes is right. Anything else is read anew.
"""

import hashlib
import json
import os
import time
from contextlib import suppress
from dataclasses import astuple
from pathlib import Path
from typing import Any
from zlib import crc32

from mustwatch.ledger.condense import Day
from mustwatch.ledger.digest import Digest
from mustwatch.ledger.files import opened
from mustwatch.ledger.sources import Found
from mustwatch.ledger.tail import blocks
from mustwatch.ledger.trouble import Trouble

FORMAT = 1
SMALLEST_BYTES = 1 << 20
RACY_NS = 2_000_000_000
REWRITE_BYTES = 1 << 18


class Cache:
    """Digests of one cellar's files in a folder outside it. Never raises; at worst it knows nothing."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def load(self, source: Found) -> tuple[Digest, frozenset[str], bool] | None:
        """The digest, the ids pinned in it, and whether it covers the whole file; None where in doubt."""
        if source.state.st_size < SMALLEST_BYTES:
            return None
        try:
            kept = _opened(self._path(source))
            known, stamp = _digest(source.name, kept), tuple(kept["stamp"])
            whole = known.read_bytes == source.state.st_size
            exact = stamp == source.stamp and whole and kept["scanned"] - source.state.st_mtime_ns > RACY_NS
            if not exact and not _starts_the_same(source, known.read_bytes, kept["crc"]):
                return None
            return known, frozenset(kept["pins"]), whole
        except Exception:  # a damaged cache may fail in any way at all, and none of them matters
            return None

    def save(self, source: Found, known: Digest, pins: frozenset[str], covered: int = 0) -> None:
        """Keep a digest, where it spares enough reading; `covered` bytes are in the cache already."""
        worth = known.hidden > 4 * len(known.lines) and known.read_bytes - covered >= REWRITE_BYTES
        if not worth or source.state.st_size < SMALLEST_BYTES or known.read_bytes != source.state.st_size:
            return
        with suppress(OSError, ValueError):
            check = _checksum(source, known.read_bytes)
            if check is not None:
                _put(self._path(source), _payload(source, known, pins, check))

    def _path(self, source: Found) -> Path:
        return self.folder / f"{hashlib.sha256(os.fsencode(source.name)).hexdigest()[:24]}.digest"


def _opened(path: Path) -> dict[str, Any]:
    handle = opened(path)
    with os.fdopen(handle, "rb") as file:
        mark, payload = file.readline(100), file.read()
    if mark.split() != [b"digest", b"%d" % FORMAT, hashlib.sha256(payload).hexdigest().encode()]:
        raise ValueError("not a digest")
    return dict(json.loads(payload))


def _digest(name: str, kept: dict[str, Any]) -> Digest:
    known = Digest(name, read_lines=kept["lines_read"], read_bytes=kept["bytes_read"])
    known.lines = [(number, text.encode()) for number, text in kept["lines"]]
    known.troubles = [Trouble(*each) for each in kept["troubles"]]
    for batch, day, which, count, readings in kept["days"]:
        held = [(value, at, event_id, number, text.encode()) for value, at, event_id, number, text in readings]
        known.days[batch, day, which] = Day(held, count)
    return known


def _payload(source: Found, known: Digest, pins: frozenset[str], check: int) -> bytes:
    days = [
        [*key, day.count, [[*reading[:4], reading[4].decode()] for reading in day.kept]]
        for key, day in known.days.items()
    ]
    kept = {
        "stamp": source.stamp,
        "scanned": time.time_ns(),
        "crc": check,
        "pins": sorted(pins),
        "bytes_read": known.read_bytes,
        "lines_read": known.read_lines,
        "lines": [[number, line.decode()] for number, line in known.lines],
        "days": days,
        "troubles": [astuple(trouble) for trouble in known.troubles],
    }
    return json.dumps(kept, ensure_ascii=False, separators=(",", ":")).encode()


def _put(path: Path, payload: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    beside = path.with_name(f".{path.name}.{os.getpid()}.tmp")
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_CLOEXEC | os.O_NOFOLLOW, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(b"digest %d %s\n" % (FORMAT, hashlib.sha256(payload).hexdigest().encode()))
            file.write(payload)
        os.rename(beside, path)
    except OSError:
        with suppress(OSError):
            os.unlink(beside)
        raise


def _starts_the_same(source: Found, size: int, check: int) -> bool:
    return 0 < size <= source.state.st_size and _checksum(source, size) == check


def _checksum(source: Found, size: int) -> int | None:
    """The checksum of a file's first bytes; None where they do not end with a line."""
    handle = opened(source.path)
    try:
        if size == 0 or os.fstat(handle).st_size < size or os.pread(handle, 1, size - 1) != b"\n":
            return None
        check = 0
        for block in blocks(handle, 0, size):
            check = crc32(block, check)
        return check
    finally:
        os.close(handle)
