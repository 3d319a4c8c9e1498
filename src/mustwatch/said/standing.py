"""Where a batch stands, as short labelled lines: the same words on the screen and in the commands."""

from datetime import datetime

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.judgement.alcohol import alcohol_now, fed_since_read
from mustwatch.ledger.settings import Settings
from mustwatch.said.dates import age, day
from mustwatch.said.dates import short_age as ago
from mustwatch.said.figures import CELSIUS, degrees, gravity, litres

LEAST_ABV = 0.25  # % vol; below it the two readings do not differ by more than their error
BEYOND_ABV = 2.0  # % vol; a stated tolerance is one or two off, common practice


def standing(batch: Batch, now: datetime, settings: Settings = CELSIUS) -> tuple[tuple[str, str], ...]:
    """(label, text) lines in the order an eye asks for them; facts not recorded are named as such.

    The texts hold what users wrote and are not yet made visible().
    """
    lines = [("stage", _stage(batch, now)), ("closure", closure_words(batch, now))]
    if batch.bottles_made:
        lines.append(("bottles", f"{batch.bottles_left} left of {batch.bottles_made}"))
    lines += [
        ("gravity", gravity_words(batch, now, settings)),
        ("alcohol", alcohol_words(batch) or f"not known: {why_no_alcohol(batch)}"),
    ]
    lines.append(("yeast", _yeast(batch)))
    lines += [("warmth", _warmth(batch, now, settings)), ("vessel", _vessel(batch))]
    if ph := batch.latest_measure("ph"):
        lines.append(("pH", f"{ph.value:g} on {day(ph.at, now)}"))
    if batch.place:
        lines.append(("place", batch.place + (f", {batch.light}" if batch.light else "")))
    return tuple(lines)


def _stage(batch: Batch, now: datetime) -> str:
    if batch.stage_since is None:
        return batch.stage
    outcome = f" ({batch.outcome})" if batch.outcome else ""
    rest = f"; the rest in a vessel: {batch.vessel_stage}" if batch.vessel_stage else ""
    return f"{batch.stage}{outcome} since {day(batch.stage_since, now)}, {ago(batch.stage_since, now)}{rest}"


def closure_words(batch: Batch, now: datetime) -> str:
    """The closure in words; NOT KNOWN where it was not recorded."""
    closing = batch.closing
    if not batch.active and batch.stage == "bottled":
        closures = sorted({lot.closure for event in batch.bottlings for lot in event.lots if lot.closure})
        return ", ".join(closures) or "NOT KNOWN: the bottles' closure was not recorded"
    if closing.kind is None:
        return f"NOT KNOWN: {closing.why_unknown}"
    state = "vented" if closing.vented else "SEALED"
    liquid = f", {closing.liquid}" if closing.liquid else ""
    since = f", {ago(closing.since, now)}" if closing.since else ""
    return f"{closing.kind} ({state}{liquid}){since}"


def gravity_words(batch: Batch, now: datetime, settings: Settings = CELSIUS) -> str:
    """Start and present gravity, corrected, with the age of the reading."""
    latest = batch.latest
    start = gravity(batch.start.sg, settings) if batch.start else "start not measured"
    if batch.start is None and batch.start_estimate_sg is not None:
        start = f"about {gravity(batch.start_estimate_sg, settings)} by the recipe"
    if latest is None:
        return f"{start}, never read"
    fed = f", fed {batch.added_points:.0f} points" if batch.added_points >= 1 else ""
    if latest is batch.start or latest == batch.start:
        return f"{start} at the start ({ago(latest.at, now)}), no reading since{fed}"
    return f"{start} -> {gravity(latest.sg, settings)} ({ago(latest.at, now)}){fed}"


def alcohol_words(batch: Batch) -> str | None:
    """Alcohol so far, to half a per cent, with its range; None where it cannot be said."""
    made = alcohol_now(batch)
    if made is None:
        return None
    if made.best < LEAST_ABV:
        return "less than half a per cent so far"
    guess = "" if batch.start else ", start from the recipe"
    said = f"about {round(made.best * 2) / 2:.1f} % vol ({made.low:.1f} to {made.high:.1f}{guess})"
    if batch.yeast and made.low > batch.yeast.tolerance_high + BEYOND_ABV:
        return f"{said}, more than its yeast is said to bear: look at the start and at what was added"
    return said


def why_no_alcohol(batch: Batch) -> str:
    """What is missing where the alcohol cannot be said."""
    if batch.latest is None:
        return "gravity was never read"
    if batch.whole_start_sg is None:
        return "no start gravity"
    if batch.latest == batch.start:
        return "no reading since the start"
    return "no reading since sugar went in" if fed_since_read(batch) else "the last reading is not below the start"


def _yeast(batch: Batch) -> str:
    limits = batch.yeast
    if limits is None:
        return "not pitched"
    if batch.pitching_assumed and batch.pitches[-1].yeast.label == "yeast":
        return f"not recorded; taken to be at work: {batch.pitching_assumed}"
    span = f"{limits.tolerance_low:g}-{limits.tolerance_high:g} % vol"
    if batch.pitches and batch.pitches[-1].yeast.yeast_class == "unknown" and limits.tolerance_assumed:
        return f"{limits.name}, tolerance not recorded: somewhere in {span}"
    return f"{limits.name}, to {span}" + (", of its class" if limits.tolerance_assumed else "")


def _warmth(batch: Batch, now: datetime, settings: Settings) -> str:
    if not batch.temperatures:
        return "not recorded"
    latest = batch.temperatures[-1]
    limits = batch.yeast if batch.active else None
    span = f", yeast {degrees(limits.low_c, settings)} to {degrees(limits.high_c, settings)}" if limits else ""
    whose = "air" if latest.of_air else "must"
    return f"{whose} {degrees(latest.celsius, settings)} ({ago(latest.at, now)}){span}"


def _vessel(batch: Batch) -> str:
    if batch.bottles_made and not batch.active:
        return "in bottles" if batch.stage == "bottled" else "none"
    volume = litres(batch.volume_l) if batch.volume_l else "volume not recorded"
    if batch.vessel_kind is None:
        return f"{volume}, vessel not recorded"
    size = f" {litres(batch.capacity_l)}" if batch.capacity_l else ""
    space = f", {litres(max(batch.headspace_l, 0))} free" if batch.headspace_l is not None else ""
    return f"{volume} in {batch.vessel_kind}{size}{space}"


def changes(before: Batch | None, after: Batch, now: datetime, settings: Settings = CELSIUS) -> list[str]:
    """What an entry changed about a batch: stage, fall since the last reading, alcohol, closure."""
    lines = []
    if before is None or before.stage != after.stage:
        lines.append(f"stage: {before.stage + ' -> ' if before else ''}{after.stage}")
    old, new = (before.latest if before else None), after.latest
    if new is not None and new != old and len(after.good_readings) > 1:
        lines.append(_fall(after.good_readings[-2], new, now, settings))
        lines += [f"alcohol {said}"] if (said := alcohol_words(after)) else []
    if before is not None and before.closing.kind != after.closing.kind:
        lines.append(f"closure: {after.closing.kind or 'NOT KNOWN: ' + (after.closing.why_unknown or '')}")
    return lines


def _fall(last: Reading, new: Reading, now: datetime, settings: Settings) -> str:
    fall = last.points - new.points
    way = "no change" if abs(fall) < 0.05 else f"down {fall:.1f} points" if fall > 0 else f"up {-fall:.1f} points"
    took = f" in {age(last.at, new.at)}"
    return f"since {day(last.at, now)}: {gravity(last.sg, settings)} -> {gravity(new.sg, settings)}, {way}{took}"
