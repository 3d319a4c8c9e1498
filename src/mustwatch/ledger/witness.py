"""What a device last saw of the others' files, noted in its own: so that a loss is told on every machine.

A note is an event of the cellar, `witnessed`, with the highest number and the last id of each other device. It is
written at most once a day, beside a save, and only where there are other devices and something has changed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from mustwatch.ledger.codec import Unreadable, parse
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event, Witnessed
from mustwatch.ledger.memory import GONE, NAME, Memory, Seen, keep, remembered
from mustwatch.ledger.trouble import Trouble

if TYPE_CHECKING:
    from mustwatch.ledger.device import Identity

EVERY = timedelta(hours=20)
KIND = re.compile(rb'"kind"\s*:\s*"witnessed"')


def due(there: Mapping[str, Seen], memory: Memory, own: str | None, now: datetime) -> Event | None:
    """The note that this device should write now, None where there is nothing new to note."""
    others = {
        name: seen
        for name, seen in there.items()
        if NAME.match(name) and name != own and seen.number >= memory.files.get(name, seen).number
    }
    numbers = {name: seen.number for name, seen in others.items()}
    if not others or memory.devices == numbers or _is_fresh(memory.at, now):
        return None
    return draft("witnessed", now, devices=numbers, last={name: seen.last for name, seen in others.items()})


def _is_fresh(at: str, now: datetime) -> bool:
    try:
        return now - datetime.fromisoformat(at) < EVERY
    except (ValueError, TypeError):
        return False


def noted(identity: Identity, event: Event) -> None:
    """Remembers that a note was written; losing that costs one note more."""
    memory = remembered(identity)
    if not memory.fault:
        keep(identity, memory, memory._replace(devices=getattr(event, "devices", {}), at=event.at.isoformat()))


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


def accepting(troubles: Iterable[Trouble], there: Mapping[str, Seen], now: datetime) -> Event | None:
    """The note that what is gone is known to be gone; None where no device's file is."""
    names = [trouble.file.removesuffix(".jsonl") for trouble in troubles if trouble.kind in GONE]
    accepted = {name: there.get(name, Seen(0, "")).number for name in names if NAME.match(name)}
    return draft("witnessed", now, accepted=accepted) if accepted else None
