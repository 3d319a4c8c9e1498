"""What a device last saw of the others' files, noted in its own: so that one that vanishes or shrinks is told.

A note is an event of the cellar, `witnessed`, with the highest number of each other device. It is written at most once
a day, beside a save, and only where there are other devices and something has changed.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from mustwatch.ledger.codec import Unreadable, parse
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event, Witnessed
from mustwatch.ledger.files import opened, write_whole
from mustwatch.ledger.sources import sources
from mustwatch.ledger.tail import tail_of
from mustwatch.ledger.trouble import Trouble

if TYPE_CHECKING:
    from mustwatch.ledger.device import Identity

EVERY = timedelta(hours=20)
KIND = re.compile(rb'"kind"\s*:\s*"witnessed"')
KEPT = "witnessed.json"


def numbers(cellar: Path) -> dict[str, int]:
    """The highest number in the file of each device, from its end alone; none where it cannot be read."""
    found = {}
    for source in sources(cellar)[0]:
        if source.copy or source.device is None:
            continue
        with suppress(OSError):
            handle = opened(source.path)
            try:
                last = tail_of(handle).last
            finally:
                os.close(handle)
            found[source.device] = last[0] if last else 0
    return found


def due(cellar: Path, identity: Identity, now: datetime) -> Event | None:
    """The note that this device should write now, None where there is nothing new to note."""
    others = {device: number for device, number in numbers(cellar).items() if device != identity.device()}
    if not others:
        return None
    try:
        kept = json.loads((identity.folder / KEPT).read_bytes())
        if kept["devices"] == others or now - datetime.fromisoformat(kept["at"]) < EVERY:
            return None
    except (OSError, ValueError, KeyError, TypeError):
        pass
    return draft("witnessed", now, devices=others)


def noted(identity: Identity, event: Event) -> None:
    """Remembers that a note was written; losing that costs one note more."""
    devices = getattr(event, "devices", {})
    with suppress(OSError):
        write_whole(identity.folder / KEPT, [json.dumps({"at": event.at.isoformat(), "devices": devices}).encode()])


def gone(notes: Iterable[Witnessed], there: Mapping[str, int]) -> list[Trouble]:
    """Each file that holds less than somebody saw in it. notes: in the order of the ledger, the accepted reset."""
    expected: dict[str, int] = {}
    for note in notes:
        for device, number in note.devices.items():
            expected[device] = max(number, expected.get(device, 0))
        expected |= dict(note.accepted)
    return [
        _told(device, number, there) for device, number in sorted(expected.items()) if there.get(device, 0) < number
    ]


def _told(device: str, number: int, there: Mapping[str, int]) -> Trouble:
    back = "look for it on that device or in a backup; `verify --accept` if it is to be so"
    if device not in there:
        return Trouble(f"{device}.jsonl", None, f"has vanished; {number} entries were seen in it: {back}", "vanished")
    what = f"has shrunk to {there[device]} entries; {number} were seen in it: {back}"
    return Trouble(f"{device}.jsonl", None, what, "shrunk")


def notes_of(lines: Iterable[bytes]) -> list[Witnessed]:
    """The notes among the lines of a ledger."""
    found = []
    for line in lines:
        if KIND.search(line):
            with suppress(Unreadable):
                event = parse(line)
                if isinstance(event, Witnessed):
                    found.append(event)
    return found


def accepting(troubles: Iterable[Trouble], there: Mapping[str, int], now: datetime) -> Event:
    """The note that what is gone is known to be gone."""
    devices = [trouble.file.removesuffix(".jsonl") for trouble in troubles if trouble.kind in ("vanished", "shrunk")]
    return draft("witnessed", now, accepted={device: there.get(device, 0) for device in devices})
