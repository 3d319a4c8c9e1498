"""One batch as a judgement looks at it: its readings in stretches, its expected end, the time."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.ending import Ending, ending_of
from mustwatch.judgement.resting import rest_of
from mustwatch.judgement.verdict import Rest
from mustwatch.judgement.window import Line, Point, line_through, points_of
from mustwatch.ledger.settings import Settings

STALL_FALL = 1.0  # points a day
STALL_ABOVE = 10.0  # points above the highest gravity at which the yeast would have stopped
FRESH_STARTS = frozenset({"sugar", "water", "repitched"})


@dataclass(frozen=True, slots=True)
class Case:
    """What a judgement looks at, gathered once.

    points: readings since the last cut of any kind; uncut: since sugar, water or yeast last went in;
    line: through the newest of points, or of uncut where those are too few.
    """

    batch: Batch
    ending: Ending
    points: list[Point]
    uncut: list[Point]
    line: Line | None
    rest: Rest
    cuts: tuple[str, ...]
    now: datetime
    stall_fall: float
    stall_above: float


def case_of(batch: Batch, settings: Settings, now: datetime) -> Case:
    began = batch.stretches[0].since if batch.stretches else now
    cuts = tuple(stretch.cut for stretch in batch.stretches[1:])
    newest = batch.stretches[-1].readings if batch.stretches else ()
    fed_at = max((place for place, cut in enumerate(cuts, 1) if cut in FRESH_STARTS), default=0)
    since_fed = [reading for stretch in batch.stretches[fed_at:] for reading in stretch.readings]
    uncut = points_of(since_fed, began)
    points = points_of(newest, began)
    return Case(
        batch=batch,
        ending=ending_of(batch),
        points=points,
        uncut=uncut,
        line=line_through(points) or line_through(uncut),
        rest=rest_of(_since_pitching(batch, uncut), bool(fed_at) and not uncut),
        cuts=cuts,
        now=now,
        stall_fall=settings.threshold("stalled", "fall", STALL_FALL),
        stall_above=settings.threshold("stalled", "above", STALL_ABOVE),
    )


def _since_pitching(batch: Batch, points: list[Point]) -> list[Point]:
    """The points from the last one before the yeast went in: a must that waited for it was not at rest."""
    before = [place for place, point in enumerate(points) if batch.pitched and point.at <= batch.pitched.at]
    return points[before[-1] :] if before else points


def points_above(case: Case, point: Point) -> float:
    """Points above the gravity at which a yeast of the upper tolerance would have stopped."""
    stop = case.ending.stop
    return 0.0 if stop is None else point.gravity - (stop - 1) * 1000


def hours_in(case: Case, point: Point) -> float:
    """Hours from pitching to a reading."""
    return (point.at - case.batch.pitched.at) / timedelta(hours=1) if case.batch.pitched else 0.0
