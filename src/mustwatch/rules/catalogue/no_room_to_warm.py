"""A sealed glass vessel is nearly full, and it warms.

What it looks for
    A bung, a cap or another closed top on glass, and two temperatures of the must or the air since then that lie
    three degrees or more above the one at which it was closed. How much the drink grows is reckoned from its alcohol,
    and set against the room that was left over it: half of that room gone is a thing for today, nine tenths a danger.
    Where that temperature, the volume or the vessel's size is not recorded, five degrees of warming are asked about.

Why it matters
    A drink grows as it warms and cannot be pressed together. Where half of the room over it is gone, the air there
    stands at twice its pressure. Where all of it is gone, the drink lifts the bung or bursts the glass, also one that
    has long come to rest.

What to do
    Protect your face and hands. Cool the room, and loosen the bung slowly. Draw a little off, so that a few
    centimetres stay free, or fit an airlock. Next time leave room, and close it in the warmest season.

Source
    How a drink grows: densities of OIML R 22 (alcohol) and ICUMSA (sugar), high confidence. Half the room, twice the
    pressure: Boyle's law, high confidence. Glass that is not made for pressure is rated for none: makers' statements,
    high confidence. Three and five degrees, nine tenths: judgement, low confidence. `bench headspace` does this sum.
"""

from datetime import timedelta

from mustwatch.cellar.batch import Batch, Temperature
from mustwatch.rules.evidence.latch import Held, Sample, held_above
from mustwatch.rules.evidence.vessel import in_glass
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="no-room-to-warm",
    severity=Severity.DANGER,
    thresholds={
        "rise": Threshold(3.0, 1.0, 10.0, "°C", "of warming since it was closed, from which the sum is done"),
        "unknown": Threshold(5.0, 2.0, 15.0, "°C", "of warming that is asked about where the room is not known"),
    },
)
HAIR_C, CLEARED_C = 0.05, 1.0
HALF, FULL = 0.5, 0.9  # of the room over the drink, gone by its growing
USUAL_ABV = 12.0  # % vol, where it is not known; a weaker drink grows less
NEAR = timedelta(days=3)  # so near to the closing a temperature is that of the closing


def check(view: View) -> Findings:
    """A finding while a sealed glass vessel has warmed and little room is left in it."""
    batch = view.batch
    if not batch.closing.sealed or batch.closing.since is None or batch.closing.kind == "keg" or not in_glass(batch):
        return
    closed = _at_closing(batch)
    known = closed is not None and batch.volume_l and batch.capacity_l
    if (held := _warmed(view, closed, RULE.number(view, "rise" if known else "unknown"))) is None:
        return
    if closed is None or not known:
        yield _finding(view, held, closed, None, Severity.WATCH)
        return
    gone = _room_gone(view, closed, held.worst.value)
    if gone >= HALF:
        yield _finding(view, held, closed, gone, Severity.DANGER if gone >= FULL else Severity.TODAY)


def _at_closing(batch: Batch) -> Temperature | None:
    """The temperature at which it was closed: the last one before, or the first one after, within three days."""
    since = batch.closing.since
    if since is None:
        return None
    near = [taken for taken in batch.temperatures if abs(taken.at - since) <= NEAR]
    before = [taken for taken in near if taken.at <= since]
    return before[-1] if before else near[0] if near else None


def _warmed(view: View, closed: Temperature | None, rise: float) -> Held | None:
    """The temperatures since it was closed that lie so far above; one alone is none."""
    batch, since = view.batch, view.batch.closing.since
    later = [taken for taken in batch.temperatures if since is not None and taken.at > since and taken != closed]
    start = closed.celsius if closed else min((taken.celsius for taken in later), default=0.0)
    samples = [Sample(taken.at, taken.celsius, taken.id) for taken in later]
    held = held_above(samples, start + rise - HAIR_C, start + rise - CLEARED_C)
    return held if held is not None and len(held.samples) > 1 else None


def _room_gone(view: View, closed: Temperature, warm_c: float) -> float:
    """The share of the room over the drink that its growing has taken up; 1 where there was none."""
    from mustwatch.trade.headspace import expansion

    batch, made = view.batch, view.verdict.made_alcohol
    abv = min(25.0, max(0.0, made.high if made else USUAL_ABV))
    from_c, to_c = (min(40.0, max(0.0, celsius)) for celsius in (closed.celsius, warm_c))
    room_l = (batch.capacity_l or 0.0) - (batch.volume_l or 0.0)
    grown_l = (batch.volume_l or 0.0) * (expansion(from_c, max(from_c, to_c), abv) - 1)
    return min(1.0, grown_l / room_l) if room_l > 0 else 1.0


def _finding(view: View, held: Held, closed: Temperature | None, gone: float | None, severity: Severity) -> Finding:
    batch, seal = view.batch, view.batch.closing
    warmest = words.temperature(view, held.worst.value)
    from_c = f" from {words.temperature(view, closed.celsius)}" if closed else ""
    grown = "" if gone is None else f" The drink has grown into {gone * 100:.0f} % of the room over it."
    missing = [] if closed else ["the temperature at which it was closed"]
    missing += [] if batch.volume_l and batch.capacity_l else ["the volume in the vessel and its size"]
    return RULE.found(
        view,
        severity,
        f"Sealed with a {(seal.kind or 'closure').replace('-', ' ')} since {words.date(view, seal.since or view.now)},"
        f" and warmed{from_c} to {warmest}.{grown}",
        why="A drink that grows into a sealed vessel lifts the bung or bursts the glass, also where nothing ferments.",
        do=(
            "Protect your face and hands. Cool the room.",
            "Loosen the closure slowly, pointed away from people. Do not lift the vessel before that.",
            "Draw a little off, so that a few centimetres stay free.",
            "Fit an airlock until the warm season is over, then record it.",
        ),
        clears_when="it has cooled, or an airlock is fitted and recorded.",
        evidence=(seal.evidence, closed.id if closed else None, *held.ids),
        since=held.since,
        missing=tuple(RULE.cannot_judge(fact, "a vessel without room to grow") for fact in missing),
        look_again=view.now + timedelta(days=1),
        action=("close", "airlock"),
    )
