"""What can be wrong with a ledger, and what reading one gives."""

from collections.abc import Callable, Iterable
from typing import NamedTuple

from mustwatch.ledger.events import Event

EXCERPT = 400


class Unusable(ValueError):
    """A cellar that cannot be used as it was asked; its text is one plain line."""


class NotSaved(OSError):
    """Nothing was added to the ledger; its text is one plain line."""


class NotKnownSaved(NotSaved):
    """The line was written, but the disk did not confirm it; its text is one plain line."""


class Trouble(NamedTuple):
    """One thing wrong with one file.

    kind: torn, damaged, checksum, newer, twice, gap, copy, special, unread, stray, aside, clock, vanished, shrunk,
    replaced or memory.
    fatal: an event may be missing or wrong because of it (`verify` exits 1).
    line: its number from 1, or None where the whole file is meant. text: the line as it stands.
    back: what would mend it, where that is known.
    """

    file: str
    line: int | None
    what: str
    kind: str
    fatal: bool = True
    text: str = ""
    back: str = ""


class Contents(NamedTuple):
    """All events in their total order, and everything that was wrong on the way."""

    events: tuple[Event, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    read_only: str | None = None
    condensed: int = 0


def excerpt(line: bytes) -> str:
    """The beginning of a line, as it is shown with a trouble."""
    return line[:EXCERPT].decode("utf-8", "replace")


def as_synced(troubles: Iterable[Trouble], ours: Callable[[str], bool]) -> tuple[Trouble, ...]:
    """The troubles, a line without its end in another device's file told as what it is. ours: by a device's name."""
    return tuple(_half(each) if each.kind == "torn" and not ours(each.file[:16]) else each for each in troubles)


def _half(trouble: Trouble) -> Trouble:
    back = "wait for the next sync; where that machine is gone, `mustwatch repair --all` sets the line aside"
    return trouble._replace(what="is not yet wholly synced: this line of another machine has no end", back=back)
