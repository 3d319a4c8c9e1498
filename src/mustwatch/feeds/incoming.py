"""Events from files of others, line by line: what each means, or what is wrong with it. Pure."""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from mustwatch.ledger.codec import object_of, parse
from mustwatch.ledger.crc import right
from mustwatch.ledger.events import FORMAT_VERSION, TAG, Event
from mustwatch.ledger.lines import unfit

LINE = re.compile(rb"[^ \t\r\n][^\n]*")


@dataclass(frozen=True, slots=True)
class BadRow:
    """A row that cannot be taken: its line in the file, or its row in a named sheet, and the reason."""

    line: int
    why: str
    sheet: str | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """What was understood of one sheet before its rows: our columns under their names, and more in words."""

    sheet: str | None
    columns: Mapping[str, str]
    told: tuple[str, ...]


@dataclass(slots=True)
class Incoming:
    """What a file holds: events with the line each came from, bad rows, columns that were not used.

    sheets: the sheet of each event; parts: what was understood of each sheet; skipped: sheets that were not read, and
    why; dates_only: rows with a date and nothing else; called: tag -> what the file calls it;
    doubled: rows with a gravity in two scales, of which the first counts.
    """

    events: list[tuple[int, Event]] = field(default_factory=list)
    bad: list[BadRow] = field(default_factory=list)
    unused: tuple[str, ...] = ()
    sheets: list[str | None] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    skipped: list[str] = field(default_factory=list)
    dates_only: list[tuple[int, str | None]] = field(default_factory=list)
    called: dict[str, dict[str, None]] = field(default_factory=dict)
    doubled: list[tuple[int, str | None]] = field(default_factory=list)


def from_json_lines(data: bytes) -> Incoming:
    """The events of JSON lines. `id`, `seq`, `v` and `crc` may be missing; a wrong checksum is a bad row."""
    found = Incoming()
    for number, line in _lines(data.removeprefix(b"\xef\xbb\xbf")):
        try:
            found.events.append((number, _event(line)))
        except ValueError as why:
            found.bad.append(BadRow(number, str(why)))
    return found


def _lines(data: bytes) -> Iterator[tuple[int, bytes]]:
    """The number and bytes of each line with anything in it; millions of empty ones cost no time."""
    number, counted_to = 1, 0
    for found in LINE.finditer(data):
        number += data.count(b"\n", counted_to, found.start())
        counted_to = found.start()
        yield number, found[0].strip(b" \t\r")


def _event(line: bytes) -> Event:
    if right(line) is False:
        raise ValueError("its checksum is wrong: something in it was changed since it was written")
    keys = {name: value for name, value in object_of(line).items() if value is not None}
    if keys.get("v", 1) != FORMAT_VERSION:
        raise ValueError(f"format {keys['v']!r} is not known here; this program reads {FORMAT_VERSION}")
    if why := unfit({"id": "-"} | keys):
        raise ValueError(why)
    batch = keys.get("batch")
    if batch is not None and not (isinstance(batch, str) and TAG.fullmatch(batch)):
        raise ValueError(f"tag {batch!r}: use small letters, digits and dashes, such as heather-2")
    return parse(json.dumps({"id": ""} | keys).encode())
