"""Lines of a file of events: which are sound, and what is wrong with the others."""

import json
import os
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any
from zlib import crc32

from mustwatch.ledger.codec import Unreadable, object_of
from mustwatch.ledger.crc import MARK, right
from mustwatch.ledger.files import Special, opened, plain
from mustwatch.ledger.sources import Found
from mustwatch.ledger.trouble import Trouble, Unusable, excerpt

LONGEST_LINE = 16 << 20
TROUBLES_KEPT = 500
BOM = b"\xef\xbb\xbf"
WRITTEN_HERE = b'{"v":1,"id":"'
ID = re.compile(r"[!-~]{1,64}\Z")


@dataclass(slots=True)
class Scan:
    """What reading one file came to: its troubles, and how much of it there was."""

    name: str
    troubles: list[Trouble] = field(default_factory=list)
    lines: int = 0
    size: int = 0
    left_out: int = 0

    def report(self, line: int | None, what: str, kind: str, text: bytes = b"", fatal: bool = True) -> None:
        """Keep one trouble; beyond some hundreds only their number is kept."""
        if len(self.troubles) >= TROUBLES_KEPT:
            self.left_out += 1
            return
        self.troubles.append(Trouble(self.name, line, what, kind, fatal, excerpt(text)))

    def close(self) -> list[Trouble]:
        """All troubles, the last one telling how many more there were."""
        if self.left_out:
            more = f"{self.left_out} more troubles of this file are not listed"
            return [*self.troubles, Trouble(self.name, None, more, "damaged")]
        return self.troubles


def sound_lines(source: Found, scan: Scan) -> Iterator[tuple[int, bytes]]:
    """The number and bytes of each sound line, without line end; troubles go to the scan.

    A line of a newer format counts as sound.
    """
    try:
        with os.fdopen(opened(source.path), "rb", 1 << 18) as handle:
            yield from _sound(_raw(handle, source.state.st_size), scan)
    except Special as error:
        scan.report(None, f"{plain(error)}; it is neither read nor written", "special")
    except OSError as error:
        scan.report(None, f"cannot be read: {plain(error)}", "unread")


def _raw(handle: Any, size: int) -> Iterable[bytes]:
    """Plain iteration where no line can be too long; bounded reads otherwise."""
    return handle if size <= LONGEST_LINE else _bounded(handle)


def _bounded(handle: Any) -> Iterator[bytes]:
    """The lines; of one that is longer than any may be its beginning alone, so that memory stays small."""
    while line := handle.readline(LONGEST_LINE):
        yield line
        rest = line
        while is_cut(rest):
            rest = handle.readline(LONGEST_LINE)


def is_cut(line: bytes) -> bool:
    """Whether a line as read goes on beyond what is read of it."""
    return len(line) == LONGEST_LINE and not line.endswith(b"\n")


def _sound(raw: Iterable[bytes], scan: Scan) -> Iterator[tuple[int, bytes]]:
    number, size = 0, 0
    for number, line in enumerate(raw, 1):
        size += len(line)
        if line[-19:-11] == MARK and line[:13] == WRITTEN_HERE and line[-11:-3] == b"%08x" % crc32(line[:-19]):
            yield number, line[:-1]
        else:
            yield from _doubtful(line, number, scan)
    scan.lines, scan.size = number, size


def _doubtful(line: bytes, number: int, scan: Scan) -> Iterator[tuple[int, bytes]]:
    """What can be used of a line that is not exactly as this program writes one."""
    if is_cut(line):
        scan.report(number, TOO_LONG, "damaged", line)
        return
    ended = line.endswith(b"\n")
    body = line.strip(b"\r\n").removeprefix(BOM)
    if not body.strip():
        return
    kept = reading(body)
    if isinstance(kept, bytes):
        yield number, kept
    elif not ended:
        scan.report(number, f"torn off: {kept}; the next save sets it aside", "torn", body)
    else:
        yield from _rescued(body, number, kept, scan)


def _rescued(body: bytes, number: int, why: str, scan: Scan) -> Iterator[tuple[int, bytes]]:
    """A sound event at the end of a damaged line: no JSON text can hold the start of one by chance."""
    for at in (body.rfind(WRITTEN_HERE, 1), len(body) - len(body.lstrip(b"\0"))):
        rest = reading(body[at:]) if at > 0 else ""
        if isinstance(rest, bytes):
            scan.report(number, f"{at} damaged bytes stand before a sound event", "damaged", body)
            yield number, rest
            return
    kind = "checksum" if why == WRONG_SUM else "damaged"
    scan.report(number, f"left out: {why}", kind, body)


def damaged_parts(source: Found, every: bool = False) -> Iterator[tuple[int, bytes, bytes]]:
    """Line number, damaged bytes and sound bytes of each damaged line that has its end; with `every` of all lines.

    Raises OSError, and with `every` Unusable for a line too long to be held. An end torn off in the middle is no line
    yet: it counts as sound here.
    """
    with os.fdopen(opened(source.path), "rb", 1 << 18) as handle:
        for number, line in enumerate(_raw(handle, source.state.st_size), 1):
            if is_cut(line):
                if every:
                    raise Unusable(f"{source.name} cannot be mended here: its line {number} is {TOO_LONG}")
                continue
            body = line.strip(b"\r\n").removeprefix(BOM)
            if not line.endswith(b"\n") or not body.strip() or isinstance(reading(body), bytes):
                if every:
                    yield number, b"", line
                continue
            rescued = next((kept for _, kept in _rescued(body, number, "", Scan(source.name))), b"")
            yield number, line[: len(line) - 1], rescued + b"\n" if rescued else b""


TOO_LONG = f"longer than any line may be ({LONGEST_LINE >> 20} MiB); take it out with an editor"
WRONG_SUM = "its checksum is wrong, so something in it was changed"


def reading(body: bytes) -> bytes | str:
    """The line where it is a sound event by its form, or the reason why not."""
    check = right(body)
    if check is False:
        return WRONG_SUM
    if check and body.startswith(WRITTEN_HERE):
        return body
    if len(body) > LONGEST_LINE - 2:
        return TOO_LONG
    try:
        return unfit(object_of(body)) or body
    except Unreadable as why:
        return str(why)


def unfit(keys: Mapping[str, Any]) -> str | None:
    """What keeps a JSON object from being an event with an id and a kind, or None."""
    event_id, version = keys.get("id"), keys.get("v", 1)
    if not isinstance(event_id, str) or not ID.match(event_id):
        return "no id of 1 to 64 plain characters"
    if not isinstance(keys.get("kind"), str):
        return "no kind of event is named"
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        return "v is not a version number"
    return None


def id_of(line: bytes) -> str:
    """The id of a sound line."""
    if line[:13] == WRITTEN_HERE and line[49:50] == b'"':
        return line[13:49].decode("ascii", "replace")
    return str(json.loads(line)["id"])
