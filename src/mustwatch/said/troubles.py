"""What is wrong with a cellar's record, worded once for `check`, `show`, `verify` and the round."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from mustwatch.cellar.lost import salvaged
from mustwatch.ledger.visible import counted
from mustwatch.said.dates import day, moment
from mustwatch.said.faults import plainly

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.cellar.corrections import Refusal
    from mustwatch.cellar.fold import Cellar
    from mustwatch.ledger.events import Event
    from mustwatch.ledger.trouble import Trouble as FileTrouble

MOST_NAMED = 20  # ids of entries ahead of the clock; where it reads 1970 all are
ID_END = 6  # signs of an id that tell the entries of one cellar apart well enough


class Trouble(NamedTuple):
    """One thing wrong with the record. Holds what users wrote, not yet made visible().

    what: correction, unknown-kind, before-mixing, or what ails a file (torn, damaged, checksum, ...);
    batch: whom it concerns, None for the cellar; ids: the entries; way_back: what would end it;
    grave: a fact may be missing or wrong because of it.
    """

    what: str
    batch: str | None
    ids: tuple[str, ...]
    says: str
    way_back: str
    grave: bool = True

    @property
    def mark(self) -> str:
        """!! where a fact may be missing or wrong, -- where it is good to know."""
        return "!!" if self.grave else "--"


def troubles_of(cellar: Cellar, files: Iterable[FileTrouble] = (), settings: str = "") -> tuple[Trouble, ...]:
    """Everything wrong: with the clock, the settings, the files, then with what stands in them; the grave first.

    settings: what is wrong with these, in one line.
    """
    found = [clock_behind(cellar)] if cellar.is_clock_behind else []
    if settings:
        back = "Correct cellar.toml in an editor; until then the default settings count."
        found.append(Trouble("settings", None, (), f"{settings}.", back))
    found += [_of_file(each, cellar) for each in files]
    found += [_ahead(cellar)] if cellar.ahead else []
    found += [refused(each, cellar.now) for each in cellar.refused]
    found += unknown(cellar.unknown)
    found += [_early(batch, cellar.now) for batch in cellar.batches.values() if batch.early]
    return tuple(sorted(found, key=lambda trouble: not trouble.grave))


def in_short(troubles: Sequence[Trouble]) -> str:
    """How many they are, where they are named, and the first; empty where there are none."""
    if not troubles:
        return ""
    whose = f"{troubles[0].batch}: " if troubles[0].batch else ""
    return f"{counted(len(troubles), 'trouble')}, see `mustwatch verify`. {whose}{troubles[0].says}"


def as_keys(trouble: Trouble) -> dict[str, object]:
    """One trouble as stable keys."""
    return trouble._asdict()


def clock_behind(cellar: Cellar) -> Trouble:
    """The clock of this machine is behind what is written down."""
    last = max(cellar.beyond, key=lambda event: event.at)
    many = len(cellar.beyond) > 1
    says = (
        f"This computer's clock reads {moment(cellar.clock or cellar.now, cellar.now)}, but {_entries(cellar.beyond)}"
        f" {'lie' if many else 'lies'} ahead of it, {'the last ' if many else ''}of {moment(cellar.now, cellar.now)}."
        f" {'They count' if many else 'It counts'} all the same."
    )
    back = f"Set the clock. Where it is right, correct the date: `mustwatch fix {last.id[-ID_END:]} at=...`."
    return Trouble("clock", None, tuple(event.id for event in cellar.beyond[-MOST_NAMED:]), says, back)


def _ahead(cellar: Cellar) -> Trouble:
    first = cellar.ahead[0]
    says = f"The {_kind(first)} of the cellar is dated {moment(first.at, cellar.now)}, which is still to come."
    back = f"Correct its date: `mustwatch fix {first.id[-ID_END:]} at=...`."
    return Trouble("dated-ahead", None, tuple(event.id for event in cellar.ahead), says, back)


def _of_file(found: FileTrouble, cellar: Cellar) -> Trouble:
    where = f"{found.file}:{found.line}" if found.line else found.file
    back = "`mustwatch verify` shows it; `mustwatch repair` says what it can do."
    if found.back:
        back = f"{found.back[0].upper()}{found.back[1:]}."
    says = f"{where} {found.what}."
    lost = salvaged(found)
    if lost is None or lost.batch not in cellar.batches:
        return Trouble(found.kind, None, (), says, back, found.fatal)
    what = f"an entry of the kind {lost.kind!r}" if lost.kind else "an entry of any kind"
    says += f" It was {what} about {lost.batch}: what it told is not known."
    again = "`mustwatch repair` sets the line aside. Then write down anew what it told."
    return Trouble(found.kind, lost.batch, (lost.id,) if lost.id else (), says, again, found.fatal)


def refused(found: Refusal, now: datetime) -> Trouble:
    """A correction that changes nothing, or not all it names."""
    act, target = found.act, found.target
    batch = act.batch or (target.batch if target else None)
    back = f"`mustwatch fix {act.id[-ID_END:]} --withdraw` takes the correction back."
    if target is None:
        says = f"A correction written on {day(act.at, now)} changes nothing: {found.why}."
        return Trouble("correction", batch, (act.id, act.target), says, back)
    says = f"A correction of the {_kind(target)} of {day(target.at, now)} does not apply: {plainly(found.why)}."
    again = f" Then correct the entry anew: `mustwatch fix {target.id[-ID_END:]}`."
    return Trouble("correction", batch, (act.id, target.id), says, back + again)


def unknown(events: Iterable[Event]) -> list[Trouble]:
    """Entries of kinds that are not known here, one trouble a batch and kind."""
    groups: defaultdict[tuple[str | None, str], list[Event]] = defaultdict(list)
    for event in events:
        groups[event.batch, event.kind].append(event)
    return [_unknown(batch, kind, its) for (batch, kind), its in groups.items()]


def _unknown(batch: str | None, kind: str, its: Sequence[Event]) -> Trouble:
    says = f"{_entries(its)} of the kind {kind!r}: kept, but no rule can read what they say."
    back = f"A newer mustwatch may know the kind. `mustwatch fix {its[0].id[-ID_END:]} --withdraw` takes an entry back."
    return Trouble("unknown-kind", batch, tuple(event.id for event in its), says, back, grave=False)


def _early(batch: Batch, now: datetime) -> Trouble:
    first, mixed = batch.early[0], batch.mixed
    on = f"on {day(mixed.at, now)}" if mixed else "later"
    says = (
        f"{_entries(batch.early)} dated before it was mixed {on}, the first the {_kind(first)} of {day(first.at, now)}."
    )
    back = f"Correct the date that is wrong: `mustwatch fix {first.id[-ID_END:]} at=...`."
    return Trouble("before-mixing", batch.tag, tuple(event.id for event in batch.early), says, back, grave=False)


def _entries(events: Sequence[Event]) -> str:
    return "1 entry" if len(events) == 1 else f"{len(events):,} entries"


def _kind(event: Event) -> str:
    return event.kind.replace("_", " ")
