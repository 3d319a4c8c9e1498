"""The end of a file of events: its last whole lines, and what a crash left after them."""

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple
from zlib import crc32

from mustwatch.ledger.clock import ticks
from mustwatch.ledger.files import opened
from mustwatch.ledger.lines import LONGEST_LINE, reading

LOOK = 1 << 16
FARTHEST_LOOK = 1 << 22
LONGEST_EVENT = 1 << 20
ID = re.compile(rb'"id"\s*:\s*"([!#-\[\]-~]{1,64})"')
SEQ = re.compile(rb'"seq"\s*:\s*(\d{1,15})\b')
VERSION = re.compile(rb'\s*\{\s*"v"\s*:\s*(\d{1,9})\b')


class Tail(NamedTuple):
    """The end of a file: where it ends, where its last line begins, the lines before that.

    loose: bytes after the last line end. whole: those bytes are a sound event that only lacks its end.
    """

    size: int
    lines: tuple[bytes, ...] = ()
    loose_from: int = 0
    whole: bool = False

    @property
    def torn(self) -> bool:
        return self.loose_from < self.size and not self.whole

    @property
    def last(self) -> tuple[int, str] | None:
        """The highest number and the last id of the readable events in the lines looked at."""
        found = [each for each in map(numbered, self.lines) if each]
        return (max(seq for seq, _ in found), found[-1][1]) if found else None

    @property
    def newest(self) -> str | None:
        """The id with the latest clock in the lines looked at."""
        ids = (match.decode() for line in self.lines for match in ID.findall(line)[:1])
        return max(filter(ticks, ids), default=None)

    @property
    def version(self) -> int:
        """The newest format version in the lines looked at."""
        found = (VERSION.match(line) for line in self.lines)
        return max((int(match[1]) for match in found if match), default=1)

    def holds(self, event_id: str) -> bool:
        """Whether an event is among the lines looked at."""
        return any(found and found[1] == event_id for found in map(numbered, self.lines))


def numbered(line: bytes) -> tuple[int, str] | None:
    """The seq (0 where absent) and id of a sound line, or None."""
    if isinstance(reading(line), str):
        return None
    found, seq = ID.search(line), SEQ.search(line)
    return (int(seq[1]) if seq else 0, found[1].decode()) if found else None


def tail_of(handle: int, look: int = LOOK) -> Tail:
    """The end of an open file. Raises OSError."""
    size = os.fstat(handle).st_size
    start = max(0, size - look)
    block = os.pread(handle, size - start, start)
    end = block.rfind(b"\n")
    if end < 0 and start:
        return _long_tail(handle, size, _line_start(handle, start))
    loose = block[end + 1 :]
    whole = bool(loose) and not isinstance(reading(loose), str)
    lines = block[: end + 1].split(b"\n")[1 if start else 0 : -1]
    if start and look < FARTHEST_LOOK and not any(ID.search(line) for line in lines):
        return tail_of(handle, look * 8)
    return Tail(size, tuple([*lines, loose] if whole else lines), size - len(loose), whole)


def _long_tail(handle: int, size: int, start: int) -> Tail:
    """An end longer than the look: still an event, if it is no longer than one may be."""
    loose = os.pread(handle, size - start, start) if size - start <= LONGEST_EVENT else b""
    whole = bool(loose) and not isinstance(reading(loose), str)
    return Tail(size, (loose,) if whole else (), start, whole)


def _line_start(handle: int, before: int) -> int:
    """Where the line that reaches over `before` begins: looked for backwards, a block at a time."""
    while before > 0:
        start = max(0, before - (1 << 20))
        found = os.pread(handle, before - start, start).rfind(b"\n")
        if found >= 0:
            return start + found + 1
        before = start
    return 0


def cut_name(stem: str, handle: int, tail: Tail) -> str:
    """The name a cut-off end gets in `aside`: the same bytes always get the same name."""
    check = 0
    for block in blocks(handle, tail.loose_from, tail.size):
        check = crc32(block, check)
    return f"{stem}-{tail.loose_from}-{check:08x}.torn"


def blocks(handle: int, start: int, end: int) -> Iterator[bytes]:
    """The bytes from `start` to `end` of an open file, a block at a time."""
    while start < end and (block := os.pread(handle, min(1 << 20, end - start), start)):
        yield block
        start += len(block)


def lines_backwards(path: Path) -> Iterator[bytes]:
    """The sound lines of a file, last first, a block at a time. Raises OSError."""
    try:
        handle = opened(path)
    except FileNotFoundError:
        return
    try:
        yield from (line for line in _backwards(handle) if line and not isinstance(reading(line), str))
    finally:
        os.close(handle)


def _backwards(handle: int) -> Iterator[bytes]:
    """The lines of an open file, last first; of one that is longer than any may be nothing is held."""
    end, rest, is_long = os.fstat(handle).st_size, b"", False
    while end > 0:
        start = max(0, end - LOOK)
        first, *lines = (os.pread(handle, end - start, start) + rest).split(b"\n")
        if is_long and lines:
            lines.pop()
            is_long = False
        yield from reversed(lines)
        is_long = is_long or len(first) > LONGEST_LINE
        end, rest = start, b"" if is_long else first
    yield rest
