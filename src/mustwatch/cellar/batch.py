"""What a cellar knows of one batch, as folded from its events. Frozen: a new event makes a new Batch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import wraps
from typing import TYPE_CHECKING, NamedTuple, TypeVar

if TYPE_CHECKING:
    from mustwatch.ledger.events import (
        Added,
        Bottled,
        Event,
        Heated,
        Hushed,
        Mixed,
        Pitched,
        PouredBack,
        Racked,
        Removed,
        Seen,
        Tasted,
    )

Known = TypeVar("Known")


class Reading(NamedTuple):
    """One gravity reading.

    sg: specific gravity 20/20 after correction; error: standard deviation of that, in SG;
    doubt: why judgements must leave it out (then it is only shown), or None;
    remarks: what was assumed, in words; floating: of an instrument that stays in the must and tells its own error.
    """

    id: str
    at: datetime
    value: float
    scale: str
    sg: float
    error: float
    sample_c: float | None = None
    must_c: float | None = None
    instrument: str | None = None
    doubt: str | None = None
    remarks: tuple[str, ...] = ()
    floating: bool = False

    @property
    def points(self) -> float:
        """Gravity points above water, (SG - 1) x 1000."""
        return (self.sg - 1) * 1000


class Temperature(NamedTuple):
    """One temperature of the must, °C (air only where `of_air`)."""

    id: str
    at: datetime
    celsius: float
    of_air: bool = False


class Measure(NamedTuple):
    """One other measurement. what: `ph`, `ta_g_l` (titratable acid, g/L) or `free_so2_mg_l` (mg/L)."""

    id: str
    at: datetime
    what: str
    value: float


class Closing(NamedTuple):
    """The closure as last recorded. kind None: not known, and `why_unknown` says since what."""

    kind: str | None
    vented: bool
    since: datetime | None
    evidence: str | None
    liquid: str | None = None
    fit: str | None = None
    why_unknown: str | None = None

    @property
    def sealed(self) -> bool:
        """Whether it is on record as one that lets no gas out."""
        return self.kind is not None and not self.vented


class Lost(NamedTuple):
    """An entry that happened and cannot be used: what it told is not known.

    kind: None where it cannot be read; at: the latest it can have been, None where that is not known either;
    since: the earliest; id: None where it cannot be read; why: what ails it, as the reason for a fact not known.
    """

    batch: str
    kind: str | None
    at: datetime | None
    id: str | None
    why: str
    since: datetime | None = None


class YeastLimits(NamedTuple):
    """Tolerance in % vol and must temperature in °C; `assumed` says they are the class's and not this yeast's."""

    name: str
    tolerance_low: float
    tolerance_high: float
    low_c: float
    high_c: float
    tolerance_assumed: bool
    temperature_assumed: bool


class Stretch(NamedTuple):
    """Readings between two cuts of the course. cut: what opened it (pitch, sugar, water, racked, stabilised, ...)."""

    since: datetime
    cut: str
    evidence: str | None
    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class Batch:
    """One must and what becomes of it.

    ahead: events written down and dated in the future, which are not in the story yet.
    lost: what is known of entries about it that cannot be used: damaged lines, and those ahead.
    early: those of its story that are dated before the day it was mixed and need a must.
    story: its events in the order they happened, corrected, without those taken back.
    revision: changes whenever anything the batch rests on changes (a key for caches).
    mixed_on_top: the last mixing that came on top of what was there already, if any did.
    pitched: the first pitching; where none was recorded and it shows life all the same, one as it must have been at
    the latest, and `pitching_assumed` says what tells so.
    astray: additions written down when all of it was in bottles: they went into no vessel that is known, and are not
    among the `additions`.
    rackings: also those by which bottles were poured back, under the id of that.
    on_shelf: the bottlings of which some may be left, with the lots that were not poured back.
    vessel_stage: of a bottled batch, the stage of what lies in a vessel all the same, as later lines tell; else None.
    """

    tag: str
    revision: str
    story: tuple[Event, ...]
    name: str = ""
    style: str | None = None
    stage: str = "planned"
    stage_since: datetime | None = None
    vessel_stage: str | None = None
    started: datetime | None = None
    mixed: Mixed | None = None
    mixed_on_top: Mixed | None = None
    pitched: Pitched | None = None
    pitches: tuple[Pitched, ...] = ()
    pitching_assumed: str = ""
    yeast: YeastLimits | None = None
    volume_l: float | None = None
    vessel_kind: str | None = None
    capacity_l: float | None = None
    headspace_l: float | None = None
    vessel_since: datetime | None = None
    place: str | None = None
    light: str | None = None
    closing: Closing = Closing(None, False, None, None, why_unknown="never recorded")
    readings: tuple[Reading, ...] = ()
    temperatures: tuple[Temperature, ...] = ()
    measures: tuple[Measure, ...] = ()
    stretches: tuple[Stretch, ...] = ()
    start: Reading | None = None
    start_estimate_sg: float | None = None
    added_points: float = 0.0
    additions: tuple[Added, ...] = ()
    astray: tuple[Added, ...] = ()
    removals: tuple[Removed, ...] = ()
    seen: tuple[Seen, ...] = ()
    rackings: tuple[Racked, ...] = ()
    bottlings: tuple[Bottled, ...] = ()
    on_shelf: tuple[Bottled, ...] = ()
    poured_back: tuple[PouredBack, ...] = ()
    heatings: tuple[Heated, ...] = ()
    tastings: tuple[Tasted, ...] = ()
    bottles_made: int = 0
    bottles_left: int = 0
    outcome: str | None = None
    hushes: tuple[Hushed, ...] = ()
    last_looked: datetime | None = None
    ahead: tuple[Event, ...] = ()
    lost: tuple[Lost, ...] = ()
    early: tuple[Event, ...] = ()

    @property
    def good_readings(self) -> tuple[Reading, ...]:
        """The readings that judgements may use, oldest first."""
        return tuple(reading for reading in self.readings if reading.doubt is None)

    @property
    def latest(self) -> Reading | None:
        """The newest reading that judgements may use."""
        return next((reading for reading in reversed(self.readings) if reading.doubt is None), None)

    @property
    def start_sg(self) -> float | None:
        """Start gravity: measured, else estimated from the recipe, else None."""
        return self.start.sg if self.start else self.start_estimate_sg

    @property
    def whole_start_sg(self) -> float | None:
        """Start gravity with all sugar fed later counted as if it had been there from the start."""
        return None if self.start_sg is None else self.start_sg + self.added_points / 1000

    @property
    def recorded_pitches(self) -> tuple[Pitched, ...]:
        """The pitchings that were written down: none where one is only assumed."""
        return () if self.pitching_assumed else self.pitches

    @property
    def stage_in_vessel(self) -> str | None:
        """The stage of what lies in a vessel, None when all is bottled or ended."""
        return self.vessel_stage or (None if self.stage in ("bottled", "ended") else self.stage)

    @property
    def active(self) -> bool:
        """True while any of it lies in a vessel: not all bottled, not ended."""
        return self.stage_in_vessel is not None

    def hours_since_pitch(self, now: datetime) -> float | None:
        """Hours from the first pitching to `now`, None when not pitched."""
        return None if self.pitched is None else (now - self.pitched.at) / timedelta(hours=1)

    def latest_measure(self, what: str) -> Measure | None:
        """The newest `ph`, `ta_g_l` or `free_so2_mg_l`."""
        found = [measure for measure in self.measures if measure.what == what]
        return found[-1] if found else None


def per_batch(ask: Callable[[Batch], Known]) -> Callable[[Batch], Known]:
    """The same question, worked out once for each batch as it stands.

    A batch is frozen, and the fold hands the same object on while nothing of it changes: the object is its own key.
    """
    kept: dict[str, tuple[Batch, Known]] = {}

    @wraps(ask)
    def remembered(batch: Batch) -> Known:
        known = kept.get(batch.tag)
        if known is None or known[0] is not batch:
            known = kept[batch.tag] = (batch, ask(batch))
        return known[1]

    return remembered
