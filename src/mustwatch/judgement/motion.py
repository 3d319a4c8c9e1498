"""How a batch moves: whether it has stalled, crawls, or falls as it should."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Literal, NamedTuple

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.ending import STALL_ABOVE, Ending, ending_of
from mustwatch.cellar.rest import read_dry
from mustwatch.judgement.window import SHORT_DAYS, SURELY_FALLS, Line, Point, line_through, points_of
from mustwatch.ledger.settings import Settings

State = Literal["lag", "moving", "sluggish", "stalled", "undecided", "stable", "finished"]
STALL_FALL = 1.0  # points a day
SLOW_ABOVE = 4.0
LAG_HOURS = 96.0
SLUGGISH_RATE = 0.04  # share of the way to go, a day
SLUGGISH_ABOVE = 20.0
RISE_POINTS = 4.0
HISTORY = 40  # readings looked back over for an earlier stall


class Case(NamedTuple):
    """What a judgement of motion looks at, gathered once.

    points: readings since the last cut of any kind; uncut: since sugar, water or yeast last went in that could wake
    it; line: through the newest of points, or of uncut where those are too few.
    """

    batch: Batch
    ending: Ending
    points: list[Point]
    uncut: list[Point]
    line: Line | None
    cuts: tuple[str, ...]
    now: datetime
    stall_fall: float = STALL_FALL
    stall_above: float = STALL_ABOVE

    @property
    def latest(self) -> Point | None:
        """The newest reading since something last came in that could wake it."""
        return self.uncut[-1] if self.uncut else None


def case_of(batch: Batch, settings: Settings, now: datetime) -> Case:
    """The case of a batch as its readings stand."""
    began = batch.stretches[0].since if batch.stretches else now
    newest = batch.stretches[-1].readings if batch.stretches else ()
    fresh = max((place for place in range(1, len(batch.stretches)) if _wakes(batch, place)), default=0)
    points = points_of(newest, began)
    uncut = points_of([reading for stretch in batch.stretches[fresh:] for reading in stretch.readings], began)
    return Case(
        batch=batch,
        ending=ending_of(batch),
        points=points,
        uncut=uncut,
        line=line_through(points) or line_through(uncut),
        cuts=tuple(stretch.cut for stretch in batch.stretches[1:]),
        now=now,
        stall_fall=settings.threshold("stalled", "fall", STALL_FALL),
        stall_above=settings.threshold("stalled", "above", STALL_ABOVE),
    )


def _wakes(batch: Batch, place: int) -> bool:
    """Whether what opened a stretch starts the course anew: sugar does, water and yeast unless it had read dry."""
    stretch = batch.stretches[place]
    return stretch.cut == "sugar" or (stretch.cut in ("water", "repitched") and not read_dry(batch, stretch.since))


def points_above(case: Case, point: Point) -> float:
    """Points above the least end."""
    return case.ending.above(1 + point.gravity / 1000)


def hours_in(case: Case, point: Point) -> float:
    """Hours from pitching to a reading."""
    return (point.at - case.batch.pitched.at) / timedelta(hours=1) if case.batch.pitched else 0.0


def still(case: Case, line: Line | None) -> bool:
    """Whether a window shows a fall too slow to be one, long enough after pitching, by readings that hold."""
    if line is None or not line.enough or line.most >= case.stall_fall or line.least > SURELY_FALLS:
        return False
    if line.strayed and len(line.points) < 3:
        return False
    last, before = line.points[-1], line.points[-2]
    return hours_in(case, last) >= LAG_HOURS and last.gravity - before.gravity <= RISE_POINTS * last.error


def stalled_at(case: Case, count: int) -> bool:
    """Whether the first `count` readings since the last cut say that it has stalled."""
    points = case.points[:count]
    if not points or not stands_high(case, points[-1]):
        return False
    return still(case, line_through(points)) or still(case, line_through(points, SHORT_DAYS))


def stood_since(case: Case) -> datetime | None:
    """When the first of the readings was taken that show the stand it is in now; None where no window shows one.

    A window that tells nothing does not end a stand; one that surely falls does. So the day stays what it was while
    further readings say the same.
    """
    began = None
    for count in range(len(case.points), 1, -1):
        points = case.points[:count]
        line = line_through(points)
        if stalled_at(case, count):
            shown = line if still(case, line) else line_through(points, SHORT_DAYS)
            began = shown.points[0].at if shown else began
        elif line is not None and line.least > SURELY_FALLS:
            break
    return began


def stands_high(case: Case, point: Point) -> bool:
    """Whether a stand at a reading would be a stall: far above the least end, and not told to stand."""
    return points_above(case, point) >= case.stall_above and "stabilised" not in case.cuts


def confirmed_at(case: Case) -> bool:
    """Whether the reading day before the last one found it stalled as well."""
    last = case.points[-1].day if case.points else 0.0
    before = next(
        (place for place in range(len(case.points) - 1, 0, -1) if last - case.points[place - 1].day >= 0.5), 0
    )
    return before > 1 and len(case.points) - before <= HISTORY and stalled_at(case, before)


def stalled_before(batch: Batch, until: datetime | None = None) -> bool:
    """Whether any reading but the newest, up to a time, found it stalled.

    By the trade's own figures: what a cellar wants to be told of as a stall does not change what is safe.
    """
    stretches = [
        each._replace(readings=tuple(reading for reading in each.readings if until is None or reading.at <= until))
        for each in batch.stretches
        if until is None or each.since <= until
    ]
    case = case_of(batch, Settings(), until or (batch.readings[-1].at if batch.readings else batch.story[-1].at))
    for place, stretch in enumerate(stretches):
        points = points_of(stretch.readings, batch.stretches[0].since)
        part = case._replace(points=points, cuts=tuple(each.cut for each in stretches[1 : place + 1]))
        last = len(points) if place == len(stretches) - 1 else len(points) + 1
        if any(stalled_at(part, count) for count in range(max(2, last - HISTORY), last)):
            return True
    return False


def motion_of(case: Case) -> State | None:
    """`moving` or `sluggish` where the window shows a fall, or a stand a little above the end; else None."""
    line = case.line
    if line is None:
        return None
    latest = line.points[-1]
    above = points_above(case, latest)
    crawls = line.enough and line.most < case.stall_fall and above >= SLOW_ABOVE and hours_in(case, latest) >= LAG_HOURS
    if line.least > 0:
        return "sluggish" if crawls or _sluggish(case, line) else "moving"
    if still(case, line) and SLOW_ABOVE <= above < case.stall_above and "stabilised" not in case.cuts:
        return "sluggish"
    return None


def _sluggish(case: Case, line: Line) -> bool:
    """Slower than 4 % of what is left a day with 20 points to go, or half of its own best with half the sugar left."""
    latest = line.points[-1]
    least = case.ending.least
    if least is None or hours_in(case, latest) < LAG_HOURS:
        return False
    above = points_above(case, latest)
    if above > SLUGGISH_ABOVE and line.most < SLUGGISH_RATE * above:
        return True
    start = case.batch.whole_start_sg
    half = start is not None and latest.gravity > ((start + least) / 2 - 1) * 1000
    return half and line.most < _best_fall(case) / 2 and not _cooler(case)


def _best_fall(case: Case) -> float:
    """The fastest fall over three days or more of this stretch, points a day; 0 where it is shorter."""
    best, points = 0.0, case.uncut[-HISTORY:]
    for place, later in enumerate(points):
        before = [point for point in points[:place] if later.day - point.day >= 3]
        if before:
            best = max(best, (before[-1].gravity - later.gravity) / (later.day - before[-1].day))
    return best


def _cooler(case: Case) -> bool:
    temps = [t.celsius for t in case.batch.temperatures if not t.of_air]
    return len(temps) > 1 and max(temps) - temps[-1] >= 3


def would_tell(case: Case, when: datetime) -> bool:
    """Whether a reading at that time that shows no fall would be a stall."""
    latest = case.uncut[-1]
    day = latest.day + (when - latest.at) / timedelta(days=1)
    points: Sequence[Point] = [*(case.points or case.uncut[-1:]), Point(day, latest.gravity, latest.error, "", when)]
    return still(case, line_through(points)) or still(case, line_through(points, SHORT_DAYS))
