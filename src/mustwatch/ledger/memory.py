"""What was last seen in each file of events, kept in local state: a file that went back or is gone is told.

Of the file this machine writes, the word that a save leaves with the lock tells the same. What is remembered is always
read before the files are: they only grow, so that a save under way makes no alarm.
"""

import json
import os
from collections.abc import Collection, Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple

from mustwatch.ledger.device import NAME, Identity
from mustwatch.ledger.events import Witnessed
from mustwatch.ledger.files import opened, own_bytes, plain, write_whole
from mustwatch.ledger.lines import Scan, sound_lines
from mustwatch.ledger.sources import ENDING, Found, sources
from mustwatch.ledger.tail import lines_backwards, numbered, tail_of
from mustwatch.ledger.trouble import NotSaved, Trouble

KEPT = "witnessed.json"
GONE = ("vanished", "shrunk", "replaced")
DAMAGE = ("torn", "damaged", "checksum")
UNREAD = ("special", "unread")
BACK = "restore it from a backup or from the other machine; `mustwatch verify --accept` if it is to stay so"
ANEW = "`mustwatch verify --accept` begins it anew, once you know that all files are there"


class Seen(NamedTuple):
    """How far a file goes: its highest number, its lines where they bear none, and the id of its last event."""

    number: int
    last: str


NOTHING = Seen(0, "")


class Memory(NamedTuple):
    """What this machine saw.

    files: by name without its ending; accepted: the notes, by their ids, that a loss is known, as far as they were
    followed here; devices, at: what the last note in the ledger says of the others, and when it was written; fault:
    why nothing can be known of it.
    """

    files: Mapping[str, Seen] = MappingProxyType({})
    accepted: Mapping[str, str] = MappingProxyType({})
    devices: Mapping[str, int] = MappingProxyType({})
    at: str = ""
    fault: str = ""


def remembered(identity: Identity) -> Memory:
    """What this machine saw last, the word of its own last save included."""
    try:
        found = _memory(json.loads(own_bytes(identity.folder / KEPT)))
    except FileNotFoundError:
        found = Memory()
    except OSError as error:
        found = Memory(fault=f"cannot be used ({plain(error)})")
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        found = Memory(fault="is damaged")
    word = identity.word()
    if word is None or word.seq < found.files.get(word.device, NOTHING).number:
        return found
    if word.id < found.accepted.get(word.device, ""):
        return found
    return found._replace(files={**found.files, word.device: Seen(word.seq, word.id)})


def _memory(kept: Any) -> Memory:
    files = {name: Seen(number, last) for name, (number, last) in kept.get("files", {}).items()}
    devices, accepted = dict(kept["devices"]), dict(kept.get("accepted", {}))
    numbers = (*devices.values(), *(seen.number for seen in files.values()))
    words = (kept["at"], *accepted.values(), *(seen.last for seen in files.values()))
    if not all(isinstance(one, int) for one in numbers) or not all(isinstance(one, str) for one in words):
        raise ValueError
    return Memory(files, accepted, devices, kept["at"])


def write(identity: Identity, memory: Memory) -> None:
    """Keeps what was seen (only under the lock). Raises OSError."""
    kept = {"at": memory.at, "devices": dict(memory.devices), "files": dict(memory.files)}
    kept["accepted"] = dict(memory.accepted)
    write_whole(identity.folder / KEPT, [json.dumps(kept).encode()])


def keep(identity: Identity, before: Memory, after: Memory) -> str:
    """Keeps what was seen where that is more than before; why it could not be kept, else nothing."""
    if after == before:
        return ""
    try:
        identity.prepare()
        with identity.lock.held(patience_s=0.0):
            if remembered(identity) == before:
                write(identity, after)
    except NotSaved:
        return ""  # somebody saves at this moment: the next look keeps it
    except OSError as error:
        return plain(error)
    return ""


def forget(identity: Identity) -> None:
    """Forgets everything: a new cellar begins where another was."""
    identity.note_written("", 0, "")
    with suppress(OSError):
        os.unlink(identity.folder / KEPT)


def begin_anew(cellar: Path, identity: Identity) -> None:
    """Takes what is there now for all there is. Raises OSError."""
    identity.prepare()
    with identity.lock.held():
        write(identity, remembered(identity)._replace(files=seen_in(cellar), fault=""))


def seen_in(cellar: Path) -> dict[str, Seen]:
    """How far each file goes, by its name without its ending, from its end alone; none where it cannot be read."""
    found = {}
    for source in sources(cellar)[0]:
        with suppress(OSError):
            found[_stem(source.name)] = _seen(source)
    return found


def _stem(name: str) -> str:
    return name[: -len(ENDING)]


def _seen(source: Found) -> Seen:
    handle = opened(source.path)
    try:
        number, last = tail_of(handle).last or (0, "")
    finally:
        os.close(handle)
    return Seen(number or sum(1 for _ in sound_lines(source, Scan(source.name))), last)


def missing(
    cellar: Path, identity: Identity, notes: Iterable[Witnessed], troubles: Collection[Trouble]
) -> list[Trouble]:
    """What was seen in a file, here or by another device, and is there no more. Remembers what is there now.

    notes: in the order of the ledger; troubles: what is wrong with the files, for a damaged line explains its number.
    """
    memory = remembered(identity)
    there = seen_in(cellar)
    if any(trouble.file == "events" and trouble.kind == "unread" for trouble in troubles):
        return []
    known, accepted = _expected(memory, notes)
    lacking = {
        name: kind for name, seen in sorted(known.items()) if (kind := _lacks(cellar, name, seen, there.get(name)))
    }
    told = [
        _told(name, known[name], there.get(name), kind)
        for name, kind in lacking.items()
        if not _explained(name, known[name], there.get(name), troubles)
    ]
    kept = {name: seen for name, seen in memory.files.items() if name in lacking}
    fault = memory.fault or keep(identity, memory, memory._replace(files={**there, **kept}, accepted=accepted))
    return [*told, _at_fault(fault, bool(memory.fault))] if fault else told


def _expected(memory: Memory, notes: Iterable[Witnessed]) -> tuple[dict[str, Seen], dict[str, str]]:
    """How far each file went at the most, and the notes that less is known; what was seen after those counts again."""
    found: dict[str, Seen] = {}
    accepted: dict[str, str] = {}
    for note in notes:
        for device, number in note.devices.items():
            if number >= found.get(device, NOTHING).number:
                found[device] = Seen(number, note.last.get(device, ""))
        for device, number in note.accepted.items():
            found[device], accepted[device] = Seen(number, ""), note.id
    for name, seen in memory.files.items():
        is_known = accepted.get(name, "") > memory.accepted.get(name, "")
        if not is_known and seen.number >= found.get(name, NOTHING).number:
            found[name] = seen
    return found, accepted


def _lacks(cellar: Path, name: str, seen: Seen, there: Seen | None) -> str:
    """Of which kind the loss is; empty where all is there that was seen."""
    if seen == NOTHING:
        return ""
    if NAME.match(name) is None:
        # A copy left by a sync is at no loss where its lines stand elsewhere: a repair takes it away.
        is_there = there is not None or not seen.last or _anywhere(cellar, seen.last)
        return "" if is_there else "vanished"
    if there is None:
        return "vanished"
    if there.number < seen.number:
        return "shrunk"
    is_held = not seen.last or seen.last == there.last or _holds(cellar / "events" / f"{name}{ENDING}", seen.last)
    return "" if is_held else "replaced"


def _holds(path: Path, event_id: str) -> bool:
    try:
        return any((numbered(line) or (0, ""))[1] == event_id for line in lines_backwards(path))
    except OSError:
        return False


def _anywhere(cellar: Path, event_id: str) -> bool:
    return any(_holds(source.path, event_id) for source in sources(cellar)[0])


def _explained(name: str, seen: Seen, there: Seen | None, troubles: Collection[Trouble]) -> bool:
    """Whether what is wrong with the lines of a file is told already, and is all that is missing in it."""
    kinds = [trouble.kind for trouble in troubles if trouble.file == f"{name}{ENDING}"]
    damaged = sum(kind in DAMAGE for kind in kinds)
    return any(kind in UNREAD for kind in kinds) or (there is not None and 0 < damaged >= seen.number - there.number)


def _told(name: str, seen: Seen, there: Seen | None, kind: str) -> Trouble:
    many = f"{_entries(seen.number)} {'was' if seen.number == 1 else 'were'} seen in it"
    what = {
        "vanished": f"has vanished; {many}",
        "shrunk": f"has shrunk to {_entries(there.number if there else 0)}; {many}",
        "replaced": f"no longer holds the entry seen last in it ({seen.last[-12:]}); an older copy may be in its place",
    }[kind]
    return Trouble(f"{name}{ENDING}", None, what, kind, back=BACK)


def _entries(number: int) -> str:
    return "1 entry" if number == 1 else f"{number:,} entries"


def _at_fault(fault: str, is_lost: bool) -> Trouble:
    if is_lost:
        what = f"what was last seen of the files {fault}: no one knows here whether one went back"
        return Trouble(KEPT, None, what, "memory", back=ANEW)
    what = f"what was seen of the files cannot be kept in local state: {fault}"
    return Trouble(KEPT, None, what, "memory", fatal=False, back="free the disk, or see to the folder's owner and mode")
