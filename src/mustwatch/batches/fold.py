"""The fold: events in, the cellar out. Pure: no clock, no disk; the same lines in any order give the same cellar."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from zlib import crc32

from mustwatch.batches.batch import Batch, Measure, Reading, Temperature
from mustwatch.batches.closing import closing_of
from mustwatch.batches.course import estimated_start, fed_points, stretches_of
from mustwatch.batches.readings import doubted, reading_from
from mustwatch.batches.settings import Settings
from mustwatch.batches.stage import stage_of
from mustwatch.batches.yeast import limits_of
from mustwatch.ledger.events import (
    Added,
    Amended,
    Bottled,
    Ended,
    Event,
    Hushed,
    Instrument,
    Mixed,
    Moved,
    Pitched,
    Racked,
    Read,
    Removed,
    Seen,
    Tasted,
    Took,
    UnknownKind,
    Withdrew,
    amended,
)  # fmt: skip

START_GRACE = timedelta(hours=12)  # a start gravity may be read until so long after pitching: nothing has fermented yet


@dataclass(frozen=True, slots=True)
class Cellar:
    """Everything a ledger tells, as it stands at `now`.

    notes: events of the cellar as a whole; withdrawn: ids taken back; refused: corrections that did not fit,
    as (id of the correction, reason); unknown: events of kinds not known here.
    """

    now: datetime
    settings: Settings
    batches: dict[str, Batch] = field(default_factory=dict)
    notes: tuple[Event, ...] = ()
    instruments: Mapping[str, Instrument] = field(default_factory=dict)
    withdrawn: frozenset[str] = frozenset()
    refused: tuple[tuple[str, str], ...] = ()
    unknown: tuple[Event, ...] = ()


def fold(events: Iterable[Event], settings: Settings, now: datetime, before: Cellar | None = None) -> Cellar:
    """The cellar of these events, given in ledger order. Events that happen after `now` are not seen.

    before: an earlier fold of the same cellar; batches whose events did not change are taken from it.
    """
    seen = [event for event in events if event.at <= now]
    corrected, acts, withdrawn, refused = corrections(seen)
    by_batch: dict[str | None, list[Event]] = {}
    for event in corrected:
        by_batch.setdefault(event.batch, []).append(event)
    notes = tuple(_in_story_order(by_batch.pop(None, [])))
    instruments = {note.name: note for note in notes if isinstance(note, Instrument)}
    batches = {
        tag: _batch(tag, by_batch[tag], acts, instruments, settings, before)
        for tag in sorted(tag for tag in by_batch if tag is not None)
    }
    unknown = tuple(event for event in corrected if isinstance(event, UnknownKind))
    return Cellar(now, settings, batches, notes, instruments, withdrawn, refused, unknown)


def corrections(
    events: Sequence[Event],
) -> tuple[list[Event], dict[str, str], frozenset[str], tuple[tuple[str, str], ...]]:
    """(events as corrected, corrected id -> ids of its corrections, ids withdrawn, corrections refused with reason).

    Corrections apply in ledger order, wherever their target stands; taking back a correction undoes it.
    """
    acts = [event for event in events if isinstance(event, Amended | Withdrew)]
    if not acts:
        return list(events), {}, frozenset(), ()
    withdrawn: set[str] = set()
    # The latest act is looked at first: an act that was itself withdrawn later has no say.
    for act in reversed(acts):
        if isinstance(act, Withdrew) and act.id not in withdrawn:
            withdrawn.add(act.target)
    changes: dict[str, list[Amended]] = {}
    for act in acts:
        if isinstance(act, Amended) and act.id not in withdrawn:
            changes.setdefault(act.target, []).append(act)
    result, refused = [], []
    for event in events:
        if event.id in withdrawn or isinstance(event, Amended | Withdrew):
            continue
        for act in changes.get(event.id, ()):
            try:
                event = amended(event, act.set)
            except ValueError as error:
                refused.append((act.id, str(error)))
        result.append(event)
    touched = {target: "+".join(act.id for act in its) for target, its in changes.items()}
    return result, touched, frozenset(withdrawn), tuple(refused)


def _in_story_order(events: Sequence[Event]) -> list[Event]:
    # sorted() is stable: events of one instant keep the ledger's order.
    return sorted(events, key=lambda event: event.at)


def _batch(
    tag: str,
    events: Sequence[Event],
    acts: Mapping[str, str],
    instruments: Mapping[str, Instrument],
    settings: Settings,
    before: Cellar | None,
) -> Batch:
    story = tuple(_in_story_order(events))
    revision = _revision(story, acts, instruments, settings)
    known = before.batches.get(tag) if before else None
    return known if known and known.revision == revision else fold_batch(tag, story, instruments, settings, revision)


def _revision(
    story: Sequence[Event], acts: Mapping[str, str], instruments: Mapping[str, Instrument], settings: Settings
) -> str:
    """A key that changes with anything the batch rests on. Events never change, so their ids and corrections tell."""
    parts = [f"{event.id}{event.crc}{acts.get(event.id, '')}" for event in story]
    rest = repr((sorted(instruments.items()), settings.hydrometer_c, settings.thresholds, settings.library))
    return f"{len(story)}-{crc32(('|'.join(parts) + rest).encode('utf-8', 'backslashreplace')):08x}"


def fold_batch(
    tag: str, story: tuple[Event, ...], instruments: Mapping[str, Instrument], settings: Settings, revision: str
) -> Batch:
    """One batch from its own events, corrected and in the order they happened."""
    mixed = _last_of(story, Mixed)
    pitches = tuple(event for event in story if isinstance(event, Pitched))
    pitched = pitches[0] if pitches else None
    readings = _readings(story, instruments, settings, pitched)
    good = [reading for reading in readings if reading.doubt is None]
    start = start_of(good, pitched)
    volume_l = _volume(story)
    stretches = stretches_of(story, good)
    start_sg = start.sg if start else None
    stage, stage_since = stage_of(story, good, start_sg)
    vessel = _vessel(story)
    return Batch(
        tag=tag,
        revision=revision,
        story=story,
        name=mixed.name if mixed else "",
        style=mixed.style if mixed else None,
        stage=stage,
        stage_since=stage_since,
        started=story[0].at if story else None,
        mixed=mixed,
        pitched=pitched,
        pitches=pitches,
        yeast=limits_of(pitches[-1].yeast, settings) if pitches else None,
        volume_l=volume_l,
        closing=closing_of(story),
        readings=readings,
        temperatures=_temperatures(story),
        measures=_measures(story),
        stretches=stretches,
        start=start,
        start_estimate_sg=None if start else estimated_start(mixed),
        added_points=fed_points(stretches, story, volume_l),
        additions=_all_of(story, Added),
        removals=_all_of(story, Removed),
        seen=_all_of(story, Seen),
        rackings=_all_of(story, Racked),
        bottlings=_all_of(story, Bottled),
        tastings=_all_of(story, Tasted),
        outcome=ended.outcome if (ended := _last_of(story, Ended)) else None,
        hushes=_all_of(story, Hushed),
        last_looked=_last_looked(story),
        **vessel,
        **_place(story),
        **_bottles(story),
    )


def _all_of(story: Sequence[Event], kind: type) -> tuple:
    return tuple(event for event in story if isinstance(event, kind))


def _last_of(story: Sequence[Event], kind: type):
    return next((event for event in reversed(story) if isinstance(event, kind)), None)


def _readings(
    story: Sequence[Event], instruments: Mapping[str, Instrument], settings: Settings, pitched: Pitched | None
) -> tuple[Reading, ...]:
    at = pitched.at if pitched else None
    found = (reading_from(event, instruments, settings, at) for event in story if isinstance(event, Read))
    return doubted([reading for reading in found if reading is not None])


def start_of(good: Sequence[Reading], pitched: Pitched | None) -> Reading | None:
    """The start gravity: the last good reading before pitching, else one taken soon after it; None if none was."""
    if pitched is None:
        return good[-1] if good else None
    ahead = [reading for reading in good if reading.at <= pitched.at]
    if ahead:
        return ahead[-1]
    return next((reading for reading in good if reading.at <= pitched.at + START_GRACE), None)


def _volume(story: Sequence[Event]) -> float | None:
    volume = None
    for event in story:
        if isinstance(event, Mixed | Racked) and event.volume_l is not None:
            volume = event.volume_l
        elif isinstance(event, Racked) and volume is not None and event.lees_l is not None:
            volume -= event.lees_l
        elif isinstance(event, Added) and volume is not None and event.category in {"water", "juice", "honey"}:
            volume += event.l or 0.0
    return volume


def _vessel(story: Sequence[Event]) -> dict:
    found: dict = {"vessel_kind": None, "capacity_l": None, "headspace_l": None, "vessel_since": None}
    for event in story:
        if isinstance(event, Mixed | Racked):
            given = "vessel" in event.model_fields_set
            found["vessel_since"] = event.at
            found["vessel_kind"] = event.vessel.kind if given else None
            found["capacity_l"] = event.vessel.capacity_l if given else None
            found["headspace_l"] = event.headspace_l if isinstance(event, Racked) else None
    volume = _volume(story)
    if found["headspace_l"] is None and found["capacity_l"] is not None and volume is not None:
        found["headspace_l"] = round(found["capacity_l"] - volume, 3)
    return found


def _place(story: Sequence[Event]) -> dict:
    moved = [event for event in story if isinstance(event, Moved)]
    return {
        "place": next((event.place for event in reversed(moved) if event.place), None),
        "light": next((event.light for event in reversed(moved) if event.light), None),
    }


def _temperatures(story: Sequence[Event]) -> tuple[Temperature, ...]:
    found = []
    for event in story:
        must_c = event.must_c if isinstance(event, Read | Pitched) else None
        air_c = event.air_c if isinstance(event, Read | Moved) else None
        if must_c is not None:
            found.append(Temperature(event.id, event.at, must_c))
        elif air_c is not None:
            found.append(Temperature(event.id, event.at, air_c, of_air=True))
    return tuple(found)


def _measures(story: Sequence[Event]) -> tuple[Measure, ...]:
    return tuple(
        Measure(event.id, event.at, what, value)
        for event in story
        if isinstance(event, Read)
        for what, value in (("ph", event.ph), ("ta_g_l", event.ta_g_l), ("free_so2_mg_l", event.free_so2_mg_l))
        if value is not None
    )


def _bottles(story: Sequence[Event]) -> dict[str, int]:
    made = sum(lot.count for event in story if isinstance(event, Bottled) for lot in event.lots)
    gone = sum(event.count for event in story if isinstance(event, Took))
    return {"bottles_made": made, "bottles_left": made - gone}


def _last_looked(story: Sequence[Event]) -> datetime | None:
    """When somebody last stood before it: a thermometer's own lines are no look."""
    looks = [event.at for event in story if not _is_thermometer(event) and not isinstance(event, Hushed)]
    return max(looks, default=None)


def _is_thermometer(event: Event) -> bool:
    return isinstance(event, Read) and event.gravity is None and event.ph is None and event.note is None
