"""The fold: events in, the cellar out. Pure: no clock, no disk; the same lines in any order give the same cellar."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from types import MappingProxyType
from typing import Any, NamedTuple
from zlib import crc32

from mustwatch.cellar.batch import Batch, Lost, Measure, Reading, Temperature
from mustwatch.cellar.clock import CLOCKS_AGREE, dated_ahead, present
from mustwatch.cellar.closing import closing_of
from mustwatch.cellar.corrections import Refusal, corrected
from mustwatch.cellar.course import beginning_first, estimated_start, fed_points, mixings_on_top, stretches_of
from mustwatch.cellar.drawn import brought_by
from mustwatch.cellar.ending import STALL_ABOVE
from mustwatch.cellar.floats import with_floats
from mustwatch.cellar.holding import vessel_of, volume_of
from mustwatch.cellar.kinds import Kinds
from mustwatch.cellar.lives import (
    astray,
    dated_before_mixing,
    in_vessel_after_bottling,
    last_end,
    last_looked,
    named,
    present_life,
)
from mustwatch.cellar.lost import undated, unsure
from mustwatch.cellar.readings import doubted, reading_from
from mustwatch.cellar.rooms import airs_of, around, with_room
from mustwatch.cellar.shelf import bottles_of, with_vessels
from mustwatch.cellar.stage import FERMENTED_SG, stage_of, vessel_stage_of
from mustwatch.cellar.unrecorded import Unrecorded, unrecorded_pitching
from mustwatch.cellar.yeast import limits_of
from mustwatch.ledger.events import (
    Added,
    Bottled,
    Closed,
    Event,
    Heated,
    Hushed,
    Instrument,
    Mixed,
    Moved,
    Pitched,
    PouredBack,
    Racked,
    Read,
    Removed,
    Seen,
    Tasted,
    Took,
    UnknownKind,
)  # fmt: skip
from mustwatch.ledger.settings import Settings

START_GRACE = timedelta(hours=12)  # a start gravity may be read until so long after pitching: nothing has fermented yet


class Cellar(NamedTuple):
    """Everything a ledger tells, as it stands at `now`.

    clock: what this machine's clock says; `now` is later where it is behind what is written down, and
    beyond: the entries that lie between. ahead: entries of the cellar as a whole dated in the future;
    notes: events of the cellar as a whole; refused: corrections that change nothing; unknown: events of kinds not
    known here. `said.troubles` tells of the last two.
    """

    now: datetime
    settings: Settings
    batches: Mapping[str, Batch] = MappingProxyType({})
    notes: tuple[Event, ...] = ()
    instruments: Mapping[str, Instrument] = MappingProxyType({})
    refused: tuple[Refusal, ...] = ()
    unknown: tuple[Event, ...] = ()
    clock: datetime | None = None
    beyond: tuple[Event, ...] = ()
    ahead: tuple[Event, ...] = ()
    lost: tuple[Lost, ...] = ()

    @property
    def is_clock_behind(self) -> bool:
        """Whether entries lie ahead of this machine's clock by more than clocks differ by themselves."""
        return self.clock is not None and self.now - self.clock > CLOCKS_AGREE


def fold(
    events: Iterable[Event],
    settings: Settings,
    now: datetime,
    before: Cellar | None = None,
    *,
    lost: Sequence[Lost] = (),
    live: bool = False,
) -> Cellar:
    """The cellar of these events, given in ledger order, as it stood at `now` with every correction known today.

    What happens after `now` is not seen; a correction counts whenever it was written, and its date with it.
    before: an earlier fold of the same cellar; batches whose events did not change are taken from it.
    lost: what could still be read of damaged lines.
    live: `now` is this machine's clock, which may be behind what is written down; then the newest entry counts.
    """
    right = corrected(tuple(events))
    clock, now = now, present(right, now) if live else now
    ahead = dated_ahead(right, now, live)
    seen = [event for event in right.events if event.at <= now]
    by_batch: defaultdict[str | None, list[Event]] = defaultdict(list)
    for event in _in_story_order(seen):
        by_batch[event.batch].append(event)
    notes = tuple(by_batch.pop(None, []))
    airs = airs_of(notes)
    instruments = {note.name: note for note in notes if isinstance(note, Instrument)}
    known = before.batches if before else {}
    rest = crc32(repr((sorted(instruments.items()), settings)).encode("utf-8", "backslashreplace"))
    lost_by_batch: defaultdict[str, list[Lost]] = defaultdict(list)
    for one in lost:
        if live or one.since is None or one.since <= now:
            lost_by_batch[one.batch].append(one)
    batches: dict[str, Batch] = {}
    for tag in sorted(tag for tag in by_batch.keys() | ahead.keys() if tag is not None):
        story, its_ahead = tuple(named(event) for event in by_batch[tag]), ahead.get(tag, ())
        its_lost, room = (*lost_by_batch[tag], *undated(its_ahead)), around(story, airs)
        revision = _revision((*story, *its_ahead), its_lost, right.acts, rest)
        revision += f"-{len(room)}-{room[-1].id}" if room else ""
        brought = brought_by(tag, by_batch, lambda kinds: _good(_readings(kinds, instruments, settings, None)))
        revision += f"-{brought}" if brought else ""
        if tag in known and known[tag].revision == revision:
            batches[tag] = known[tag]
        else:
            batch = fold_batch(tag, story, instruments, settings, revision, its_ahead, its_lost, brought)
            batches[tag] = replace(batch, temperatures=with_room(batch.temperatures, room)) if room else batch
    unknown = tuple(event for event in seen if isinstance(event, UnknownKind))
    beyond = tuple(event for event in seen if event.at > clock)
    more = (clock if live else None, beyond, ahead.get(None, ()), tuple(lost))
    return Cellar(now, settings, batches, notes, instruments, right.refused, unknown, *more)


def _in_story_order(events: Sequence[Event]) -> list[Event]:
    # sorted() is stable: events of one instant keep the ledger's order.
    return sorted(events, key=lambda event: event.at)


def _revision(story: Sequence[Event], lost: Sequence[Lost], acts: Mapping[str, str], rest: int) -> str:
    """A key that changes with anything the batch rests on. Events never change, so their ids and corrections tell."""
    parts = [f"{event.id}{event.crc}{acts.get(event.id, '')}" for event in story]
    parts += [repr(one) for one in lost]
    return f"{len(story)}-{crc32('|'.join(parts).encode('utf-8', 'backslashreplace'), rest):08x}"


def fold_batch(
    tag: str,
    story: tuple[Event, ...],
    instruments: Mapping[str, Instrument],
    settings: Settings,
    revision: str,
    ahead: tuple[Event, ...] = (),
    lost: tuple[Lost, ...] = (),
    brought: Unrecorded | None = None,
) -> Batch:
    """One batch from its own events, corrected and in the order they happened; brought: yeast of another batch."""
    life = present_life(story)
    told = with_vessels(life)
    adrift = astray(Kinds(told))
    kinds = Kinds([event for event in told if event not in adrift] if adrift else told)
    mixed = kinds.last(Mixed)
    pitches = kinds.all(Pitched)
    pitched = pitches[0] if pitches else None
    readings = _readings(kinds, instruments, settings, pitched)
    good = _good(readings)
    assumed = brought or unrecorded_pitching(kinds, good) if pitched is None else None
    if assumed is not None:
        pitched, pitches = assumed.pitched, (assumed.pitched,)
        if any(reading.instrument for reading in readings):  # a refractometer's mean something else from then on
            readings = _readings(kinds, instruments, settings, pitched)
            good = _good(readings)
    start = start_of(good, pitched)
    # What another batch had fermented before nobody can read in this one.
    if brought is not None or (assumed is not None and start is not None and start.sg <= FERMENTED_SG):
        start = None
    turns = kinds.among(Mixed, Pitched, Racked, Added, Read)
    on_top = mixings_on_top(turns)
    volume_l = volume_of(beginning_first(kinds.among(Mixed, Racked, Added), on_top))
    stretches = stretches_of(turns, good, life[0].at if life else None, on_top)
    batch = Batch(
        tag=tag,
        revision=revision,
        story=story,
        name=mixed.name if mixed else "",
        style=mixed.style if mixed else None,
        started=life[0].at if life else None,
        mixed=mixed,
        mixed_on_top=on_top[-1] if on_top else None,
        pitched=pitched,
        pitches=pitches,
        pitching_assumed=assumed.why if assumed else "",
        yeast=limits_of(pitches[-1].yeast, settings) if pitches else None,
        volume_l=volume_l,
        closing=unsure(closing_of(beginning_first(kinds.among(Mixed, Racked, Closed, Seen), on_top)), lost),
        readings=readings,
        temperatures=_temperatures(kinds.among(Read, Pitched, Moved, Heated)),
        measures=_measures(kinds.all(Read)),
        stretches=stretches,
        start=start,
        start_estimate_sg=None if start or brought else estimated_start(mixed),
        added_points=fed_points(stretches, kinds.all(Added), volume_l),
        additions=kinds.all(Added),
        astray=adrift,
        removals=kinds.all(Removed),
        seen=kinds.all(Seen),
        rackings=kinds.all(Racked),
        bottlings=kinds.all(Bottled),
        poured_back=kinds.all(PouredBack),
        heatings=kinds.all(Heated),
        tastings=kinds.all(Tasted),
        outcome=ended.outcome if (ended := last_end(kinds)) else None,
        hushes=kinds.all(Hushed),
        last_looked=last_looked(story),
        ahead=ahead,
        lost=lost,
        early=dated_before_mixing(life, kinds.first(Mixed)),
        **vessel_of(beginning_first(kinds.among(Mixed, Racked), on_top), volume_l),
        **_place(kinds.all(Moved)),
        **bottles_of(kinds.all(Bottled), kinds.all(Took), kinds.all(PouredBack)),
    )
    stall_above = settings.threshold("stalled", "above", STALL_ABOVE)
    stage, since = stage_of(batch, kinds, stall_above)
    again = stage == "bottled" and in_vessel_after_bottling(kinds)
    vessel_stage = vessel_stage_of(batch, kinds, stall_above)[0] if again else None
    # Nobody has this batch yet, so nothing frozen changes; what was worked out for its stage stays known by it.
    for name, value in (("stage", stage), ("stage_since", since), ("vessel_stage", vessel_stage)):
        object.__setattr__(batch, name, value)
    return batch


def _readings(
    kinds: Kinds, instruments: Mapping[str, Instrument], settings: Settings, pitched: Pitched | None
) -> tuple[Reading, ...]:
    at = pitched.at if pitched else None
    found = (reading_from(event, instruments, settings, at) for event in kinds.all(Read))
    return doubted(with_floats([reading for reading in found if reading is not None]))


def _good(readings: Sequence[Reading]) -> list[Reading]:
    return [reading for reading in readings if reading.doubt is None]


def start_of(good: Sequence[Reading], pitched: Pitched | None) -> Reading | None:
    """The start gravity: the last good reading before pitching, else one taken soon after it; None if none was."""
    if pitched is None:
        return good[-1] if good else None
    ahead = [reading for reading in good if reading.at <= pitched.at]
    if ahead:
        return ahead[-1]
    return next((reading for reading in good if reading.at <= pitched.at + START_GRACE), None)


def _place(moved: Sequence[Moved]) -> dict[str, Any]:
    return {
        "place": next((event.place for event in reversed(moved) if event.place), None),
        "light": next((event.light for event in reversed(moved) if event.light), None),
    }


def _temperatures(events: Sequence[Event]) -> tuple[Temperature, ...]:
    found = []
    for event in events:
        must_c = event.must_c if isinstance(event, Read | Pitched) else None
        if isinstance(event, Heated) and event.what == "must":
            must_c = event.c
        air_c = event.air_c if isinstance(event, Read | Moved) else None
        if must_c is not None:
            found.append(Temperature(event.id, event.at, must_c))
        elif air_c is not None:
            found.append(Temperature(event.id, event.at, air_c, of_air=True))
    return tuple(found)


def _measures(reads: Sequence[Read]) -> tuple[Measure, ...]:
    return tuple(
        Measure(event.id, event.at, what, value)
        for event in reads
        for what, value in (("ph", event.ph), ("ta_g_l", event.ta_g_l), ("free_so2_mg_l", event.free_so2_mg_l))
        if value is not None
    )
