"""Where a batch stands, in a few lines: stage, gravity, alcohol, end, warmth, closure, vessel."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import cells, visible
from mustwatch.said.dates import age, ago, day
from mustwatch.said.figures import degrees, gravity, litres
from mustwatch.said.standing import why_no_alcohol
from mustwatch.screens.ink import ROOMY, Line, labelled, padded, wrapped

NARROW = ROOMY
LEADS = {"gravity": "SG ", "end": "end ", "alcohol": "alcohol ", "closure": "closure ", "warmth": "warmth "}
UNRECORDED = "not recorded"
STATES = {
    "lag": "no sign of fermentation yet",
    "moving": "falling",
    "sluggish": "sluggish, falling",
    "stalled": "stalled: standing still above its least end",
    "undecided": "undecided: the readings do not tell yet",
    "stable": "stable, which is not yet finished",
    "finished": "finished, as far as readings show",
}


def standing_lines(
    batch: Batch,
    verdict: Verdict | None,
    settings: Settings,
    now: datetime,
    width: int,
    likely: tuple[float, float] | None = None,
    live: str = "",
) -> list[Line]:
    """The lines of the section, at most `width` cells wide.

    likely: where it will most likely end, once forecast; live: what probes show at this moment, in words.
    """
    name = visible(batch.name) or batch.tag
    tag = "" if name == batch.tag else batch.tag
    head: Line = ((padded(name, max(8, width - len(tag) - 1)), "strong"), (f" {tag}", "dim"))
    alarm = "danger" if batch.active and not _is_safe_closure(batch, verdict) else ""
    parts = [
        ("stage", _stage(batch, now), ""),
        ("gravity", _gravity(batch, settings, now), ""),
        ("state", _state(batch, verdict, now), ""),
        ("alcohol", _alcohol(batch, verdict), ""),
        ("end", _end(batch, verdict, settings, likely), ""),
        ("warmth", _with_live(_warmth(batch, settings, now), visible(live)), ""),
        ("closure", closure_words(batch, now), alarm),
        ("vessel", _vessel(batch), ""),
        ("seen", ago(batch.last_looked, now) if batch.last_looked else "never looked at", ""),
    ]
    told = [part for part in parts if part[1]]
    return [head, *(_joined(told, width) if width < NARROW else _listed(told, width))]


def _listed(parts: Sequence[tuple[str, str, str]], width: int) -> list[Line]:
    return [more for label, text, role in parts for more in labelled(label, text, width, role)]


def _joined(parts: Sequence[tuple[str, str, str]], width: int) -> list[Line]:
    """The same without labels, two to a line where they fit: a narrow pane has no lines to give away."""
    by_label = {label: (text, role) for label, text, role in parts}
    lines: list[Line] = []
    for label in ("stage", "gravity", "state", "warmth", "alcohol", "end", "closure", "vessel"):
        if label not in by_label:
            continue
        text, role = by_label[label]
        leads = label in ("gravity", "end") or "NOT KNOWN" in text or text == UNRECORDED
        lead = LEADS.get(label, "") if leads else ""
        body = wrapped(lead + text, width, role, rest="  ")
        joins = label in ("warmth", "end") and len(body) == 1 and _length(lines[-1]) + _length(body[0]) + 2 <= width
        if joins:
            lines[-1] = (*lines[-1], ("; ", ""), *body[0])
        else:
            lines += body
    return lines


def _length(line: Line) -> int:
    return sum(cells(text) for text, _ in line)


def _is_safe_closure(batch: Batch, verdict: Verdict | None) -> bool:
    """Whether the closure needs no alarm here; what is not known is never safe."""
    if batch.closing.kind is None:
        return False
    return batch.closing.vented or (verdict is not None and verdict.safe)


def _stage(batch: Batch, now: datetime) -> str:
    if batch.stage == "ended":
        return f"ended: {batch.outcome or 'not said how'}"
    if batch.stage == "bottled":
        rest = f"; the rest in a vessel: {batch.vessel_stage}" if batch.vessel_stage else ""
        left = f"{batch.bottles_left} of {batch.bottles_made} bottles left"
        return f"bottled {_since(batch.stage_since, now)}; {left}{rest}"
    return f"{batch.stage} {_since(batch.stage_since, now)}" if batch.stage_since else batch.stage


def _since(at: datetime | None, now: datetime) -> str:
    return f"since {day(at, now)}, {age(at, now)}" if at else ""


def _gravity(batch: Batch, settings: Settings, now: datetime) -> str:
    latest = batch.latest
    if batch.start is not None:
        start = gravity(batch.start.sg, settings)
    elif batch.start_estimate_sg is not None:
        start = f"about {gravity(batch.start_estimate_sg, settings)} (estimated)"
    else:
        start = "start NOT KNOWN"
    if latest is None:
        return f"{start}; never read"
    if batch.start is not None and latest.id == batch.start.id:
        return f"{start} on {day(latest.at, now)}"
    fed = f", {batch.added_points:.0f} points fed" if batch.added_points >= 1 else ""
    return f"{start} -> {gravity(latest.sg, settings)} ({day(latest.at, now)}{fed})"


def _state(batch: Batch, verdict: Verdict | None, now: datetime) -> str:
    if verdict is None or verdict.state is None or not batch.active:
        return ""
    if verdict.state == "lag" and batch.stage != "lag":
        # What was seen of it says that it lives; its readings do not tell yet.
        return "signs of fermentation seen, no fall read yet"
    said = STATES[verdict.state]
    if verdict.state in ("moving", "sluggish") and verdict.fall is not None:
        said += f" {verdict.fall:.1f} points a day"
    if verdict.state == "undecided" and verdict.decide_on is not None:
        said += f"; read again on {day(verdict.decide_on, now)}"
    return said


def _alcohol(batch: Batch, verdict: Verdict | None) -> str:
    if batch.pitched is None:
        return ""
    made = verdict.made_alcohol if verdict else None
    if made is None:
        return f"NOT KNOWN: {why_no_alcohol(batch)}"
    if made.high < 0.3:
        return "none to speak of yet"
    about = f"about {made.low:.1f}" if made.high - made.low < 0.15 else f"about {made.low:.1f}-{made.high:.1f}"
    return f"{about} % vol" + ("" if batch.start else ", from an estimated start")


def _end(batch: Batch, verdict: Verdict | None, settings: Settings, likely: tuple[float, float] | None = None) -> str:
    if verdict is None or not batch.active:
        return ""
    least = "" if verdict.least_end is None else f"should come to {gravity(verdict.least_end, settings)} at least"
    if likely is None or verdict.at_rest:
        return least
    span = " to ".join(dict.fromkeys(gravity(sg, settings) for sg in likely))
    return "; ".join(part for part in (least, f"will most likely end at {span}") if part)


def _warmth(batch: Batch, settings: Settings, now: datetime) -> str:
    if not batch.active:
        return ""
    if not batch.temperatures:
        return UNRECORDED
    last = batch.temperatures[-1]
    whose = "air" if last.of_air else "must"
    place = f", {visible(batch.place)}" if batch.place else ""
    age = f" ({ago(last.at, now)})" if now - last.at > timedelta(hours=1) else ""
    return f"{whose} {degrees(last.celsius, settings)}{age}{place}"


def _with_live(recorded: str, live: str) -> str:
    """What is live stands for what was recorded; a silent probe stands beside it."""
    if not live or not recorded:
        return recorded
    return live if live.endswith(" now") and "silent" not in live else f"{recorded}; {live}"


def closure_words(batch: Batch, now: datetime) -> str:
    """The closure in words; an unknown one says so in capitals, for nobody may take it for safe."""
    closing = batch.closing
    if not batch.active:
        return ""
    if closing.kind is None:
        return f"NOT KNOWN ({closing.why_unknown or 'never recorded'})"
    kept = "lets gas out" if closing.vented else "SEALED"
    liquid = f", {visible(closing.liquid)}" if closing.liquid else ""
    since = f" since {day(closing.since, now)}" if closing.since else ""
    return f"{closing.kind}, {kept}{liquid}{since}"


def _vessel(batch: Batch) -> str:
    if not batch.active:
        return ""
    kind = visible(batch.vessel_kind) if batch.vessel_kind and batch.vessel_kind != "unknown" else "vessel not recorded"
    volume = litres(batch.volume_l) if batch.volume_l is not None else "volume not recorded"
    if batch.capacity_l and batch.volume_l is not None:
        volume = f"{batch.volume_l:.3g} of {batch.capacity_l:.3g} L"
    said = f"{kind}, {volume}"
    if batch.headspace_l is not None and batch.headspace_l >= 0:
        said += f", headspace {litres(batch.headspace_l)}"
    return said
