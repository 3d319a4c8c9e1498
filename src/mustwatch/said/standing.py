"""Where a batch stands, as short labelled lines: the same words on the screen and in the commands."""

from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch, Reading
from mustwatch.judgement.alcohol import alcohol_now, fed_since_read
from mustwatch.judgement.proof import Needed
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.settings import Settings
from mustwatch.said.course import moved
from mustwatch.said.dates import age, ago, day, on_day, span
from mustwatch.said.figures import CELSIUS, degrees, gravities, gravity, listed, litres, points, score_words, times
from mustwatch.said.telling import closure_words

LEAST_ABV = 0.25  # % vol; below it the two readings do not differ by more than their error
BEYOND_ABV = 2.0  # % vol; a stated tolerance is one or two off, common practice
Span = tuple[float, float]
HIDDEN_POINTS = 1.95  # sugar that an end may hide without a word; shown as two points


def standing(
    batch: Batch, verdict: Verdict, now: datetime, settings: Settings = CELSIUS, likely: Span | None = None
) -> tuple[tuple[str, str], ...]:
    """(label, text) lines in the order an eye asks for them; facts not recorded are named as such.

    likely: between which gravities it will most likely end, SG, where that was forecast. The texts hold
    what users wrote and are not yet made visible().
    """
    ph = batch.latest_measure("ph")
    lines = (
        ("stage", _stage(batch, now)),
        ("gravity", _gravity(batch, now, settings)),
        ("state", "; ".join(state_words(batch, verdict, now, settings)) if batch.active else ""),
        ("alcohol", alcohol_words(batch) or f"NOT KNOWN: {why_no_alcohol(batch)}"),
        ("end", _end(verdict, settings, likely) if batch.active else ""),
        ("yeast", _yeast(batch, settings)),
        ("warmth", _warmth(batch, now, settings)),
        ("closure", _closure(batch, now)),
        ("vessel", _vessel(batch)),
        ("pH", f"{ph.value:g} on {day(ph.at, now)}" if ph else ""),
        ("place", (batch.place or "") + (f", {batch.light}" if batch.light else "")),
        ("seen", ago(batch.last_looked, now) if batch.last_looked else "never looked at"),
    )
    return tuple((label, text) for label, text in lines if text)


def in_a_line(batch: Batch, verdict: Verdict, now: datetime, settings: Settings = CELSIUS) -> str:
    """Where a batch stands in one line to be read aloud: stage, gravity with its age, when looked at, state."""
    since = f" since {day(batch.stage_since, now)}" if batch.stage_since else ""
    rest = f", the rest in a vessel, {batch.vessel_stage}" if batch.vessel_stage else ""
    latest = batch.latest
    read = f"{gravity(latest.sg, settings)} read {ago(latest.at, now)}" if latest else "gravity never read"
    seen = f"looked at {ago(batch.last_looked, now)}" if batch.last_looked else "never looked at"
    state = "stable, not finished" if verdict.state == "stable" else verdict.state
    if not batch.active or state == batch.stage:
        state = None
    return "; ".join(part for part in (f"{batch.stage}{since}{rest}", read, seen, state) if part)


def rated_words(batch: Batch, score: float, now: datetime) -> str:
    """What a batch was thought of: its last score, how often it was tasted, and whether it would be made again."""
    last = batch.tastings[-1]
    again = "" if last.again is None else "; again" if last.again else "; not again"
    return f"{score_words(score)}, tasted {times(len(batch.tastings))}, last {ago(last.at, now)}{again}"


def state_words(batch: Batch, verdict: Verdict, now: datetime, settings: Settings = CELSIUS) -> list[str]:
    """The state and what it rests on, the state's own word first; nothing where nothing was pitched."""
    at = gravity(batch.latest.sg, settings) if batch.latest else "?"
    match verdict.state:
        case None:
            return []
        case "lag" if batch.stage != "lag":
            # What was seen of it says that it lives; its readings do not tell yet.
            return ["signs of fermentation seen, no fall read yet"]
        case "lag":
            since = span(max(0.0, batch.hours_since_pitch(now) or 0.0) / 24)
            return [f"no sign of fermentation yet, {since} after pitching; 6 to 48 hours is common"]
        case "moving":
            return [f"falling{_pace(verdict)}"]
        case "sluggish":
            how = "standing a little above its least end" if verdict.slow_finish else f"falling{_pace(verdict)}"
            return [f"sluggish, {how}"]
        case "stalled":
            again = "" if verdict.confirmed else "; one more reading will confirm it"
            return [f"{'' if verdict.confirmed else 'it seems '}stalled at {at}{_above(verdict, settings)}{again}"]
        case "undecided":
            return _undecided(verdict, now)
        case "stable":
            sealable = "stabilised" if verdict.safe else "not safe to seal"
            above = _above(verdict, settings)
            return [f"stable at {at}{above}: {_agreeing(verdict)}, not finished, {sealable}"]
    words = [f"finished at {at}: {_agreeing(verdict)}"]
    if verdict.may_hold is not None and verdict.may_hold >= HIDDEN_POINTS:
        words.append(f"no hydrometer can tell: up to {points(verdict.may_hold)} of sugar may still be there")
    return words


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


def needed_words(needed: Needed) -> str:
    """How long readings must agree, and why: `14 days are needed, for it is sweet and it is strong`."""
    because = f", for {listed(list(needed.because))}" if needed.because else ""
    return f"{needed.days} days are needed{because}"


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
        lines.append(f"closure: {_closure(after, now)}")
    return lines


def _pace(verdict: Verdict) -> str:
    return f" {verdict.fall:.1f} points a day" if verdict.fall is not None else ""


def _above(verdict: Verdict, settings: Settings) -> str:
    if not verdict.points_to_go or verdict.least_end is None:
        return ""
    least = gravity(verdict.least_end, settings)
    return f", {points(verdict.points_to_go)} above {least}, where its yeast should have come at least"


def _agreeing(verdict: Verdict) -> str:
    return f"its readings agree over {span(verdict.rest.days)}"


def _undecided(verdict: Verdict, now: datetime) -> list[str]:
    if verdict.decide_on is None or verdict.decide_on <= now + timedelta(hours=1):
        return ["undecided: read now, the readings so far cannot tell"]
    again, rest = f"undecided: read again {on_day(verdict.decide_on, now)}", verdict.rest.readings
    if rest and verdict.decide_on == rest[0].at + timedelta(days=verdict.needed.days):
        return [f"{again}, then it can be told whether it rests", needed_words(verdict.needed)]
    return [f"{again}, then it can be told apart from slow"]


def _fall(last: Reading, new: Reading, now: datetime, settings: Settings) -> str:
    return f"since {day(last.at, now)}: {gravity(last.sg, settings)} -> {gravity(new.sg, settings)}, {moved(last, new)}"


def _stage(batch: Batch, now: datetime) -> str:
    outcome = f" ({batch.outcome or 'not said how'})" if batch.stage == "ended" else ""
    since = f" since {day(batch.stage_since, now)}, {age(batch.stage_since, now)}" if batch.stage_since else ""
    left = f"; {batch.bottles_left} of {batch.bottles_made} bottles left" if batch.bottles_made else ""
    rest = f"; the rest in a vessel: {batch.vessel_stage}" if batch.vessel_stage else ""
    return f"{batch.stage}{outcome}{since}{left}{rest}"


def _gravity(batch: Batch, now: datetime, settings: Settings) -> str:
    """Start and present gravity, corrected, with the age of the reading."""
    latest = batch.latest
    start = gravity(batch.start.sg, settings) if batch.start else "start NOT KNOWN"
    if batch.start is None and batch.start_estimate_sg is not None:
        start = f"about {gravity(batch.start_estimate_sg, settings)} by the recipe"
    if latest is None:
        return f"{start}, never read"
    fed = f", fed {points(batch.added_points)}" if batch.added_points >= 1 else ""
    if latest == batch.start:
        return f"{start} at the start, {ago(latest.at, now)}; not read since{fed}"
    return f"{start} -> {gravity(latest.sg, settings)}, {ago(latest.at, now)}{fed}"


def _end(verdict: Verdict, settings: Settings, likely: Span | None) -> str:
    least = "" if verdict.least_end is None else f"should come to {gravity(verdict.least_end, settings)} at least"
    if likely is None or verdict.at_rest:
        return least
    return "; ".join(part for part in (least, f"will most likely end at {gravities(*likely, settings)}") if part)


def _yeast(batch: Batch, settings: Settings) -> str:
    limits = batch.yeast
    if limits is None:
        return "not pitched"
    if batch.pitching_assumed and batch.pitches[-1].yeast.label == "yeast":
        return f"not recorded; taken to be at work: {batch.pitching_assumed}"
    bears = f"{limits.tolerance_low:g} to {limits.tolerance_high:g} % vol"
    warm = f", {degrees(limits.low_c, settings)} to {degrees(limits.high_c, settings)}"
    if batch.pitches and batch.pitches[-1].yeast.yeast_class == "unknown" and limits.tolerance_assumed:
        return f"{limits.name}, tolerance not recorded, somewhere in {bears}{warm}"
    return f"{limits.name}, bears {bears}{' like its class' if limits.tolerance_assumed else ''}{warm}"


def _warmth(batch: Batch, now: datetime, settings: Settings) -> str:
    if not batch.temperatures:
        return "not recorded"
    latest = batch.temperatures[-1]
    return f"{'air' if latest.of_air else 'must'} {degrees(latest.celsius, settings)}, {ago(latest.at, now)}"


def _closure(batch: Batch, now: datetime) -> str:
    """The closure, and whether it lets gas out; NOT KNOWN where it was not recorded."""
    closing = batch.closing
    if not batch.active and batch.stage == "bottled":
        closures = sorted(
            {lot.closure for event in batch.on_shelf or batch.bottlings for lot in event.lots if lot.closure}
        )
        return ", ".join(closures) or "NOT KNOWN: the bottles' closure was not recorded"
    if closing.kind is None:
        return f"NOT KNOWN: {closing.why_unknown or 'never recorded'}"
    liquid = f", {closing.liquid}" if closing.liquid else ""
    since = f", since {day(closing.since, now)}" if closing.since else ""
    return f"{closure_words(closing.kind)}{liquid}{since}"


def _vessel(batch: Batch) -> str:
    if batch.bottles_made and not batch.active:
        return "in bottles" if batch.stage == "bottled" else "none"
    volume = litres(batch.volume_l) if batch.volume_l else "volume not recorded"
    if batch.vessel_kind is None or batch.vessel_kind == "unknown":
        return f"{volume}, vessel not recorded"
    size = f" {litres(batch.capacity_l)}" if batch.capacity_l else ""
    space = f", {litres(max(batch.headspace_l, 0))} free" if batch.headspace_l is not None else ""
    return f"{volume} in {batch.vessel_kind}{size}{space}"
