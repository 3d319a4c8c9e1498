"""Bottles that can still work were moved into warmth.

What it looks for
    Temperatures where the bottles lie, five degrees or more above the day of bottling, twice; for bottles that were
    primed, are sweet, or were not proven to be at rest. Where the day of bottling has no temperature, anything
    above 25 °C. Dry and steady, or stabilised and steady, still bottles may be warm.

Why it matters
    Yeast that slept in the cold starts again, and the pressure of the gas already there rises with warmth. Bottles
    pop in the first hot month.

What to do
    Cover the bottles where they lie and cool the room. Move them only covered and cold, with gloves and a face
    shield. Open one cold over the sink, and judge the lot by it.

Source
    Hobby reports of bottles popping after heat, medium confidence.
"""

from mustwatch.judgement.bottlings import AtBottling, at_bottling
from mustwatch.rules.evidence.latch import Sample, held_above
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="bottles-in-warmth",
    severity=Severity.WATCH,
    stages=frozenset({"bottled"}),
    thresholds={
        "rise": Threshold(5.0, 2.0, 20.0, "°C", "so much warmer than on the day of bottling"),
        "warm": Threshold(25.0, 18.0, 35.0, "°C", "the limit where that day has no temperature"),
    },
)


def check(view: View) -> Findings:
    """A finding when bottles that may still work lie warm."""
    batch = view.batch
    if not batch.temperatures:
        return
    bottled = at_bottling(batch)
    if bottled is None or not _can_work(bottled):
        return
    before = [t for t in batch.temperatures if t.at <= bottled.event.at]
    limit = before[-1].celsius + RULE.number(view, "rise") if before else RULE.number(view, "warm")
    later = [Sample(t.at, t.celsius, t.id) for t in batch.temperatures if t.at > bottled.event.at]
    held = held_above(later, limit - 0.05, limit - 1.0)
    if held is None or len(held.samples) < 2:
        return
    yield RULE.found(
        view,
        Severity.WATCH,
        f"These bottles can still work, and lie at {words.temperature(view, held.last.value)} since"
        f" {words.date(view, held.since)}"
        + (f"; on the day of bottling it was {words.temperature(view, before[-1].celsius)}." if before else "."),
        do=(
            "Cover the bottles and cool the room. Move them only covered and cold.",
            "Open one cold over the sink, face and hands covered. Judge the lot by it.",
        ),
        clears_when="they lie cooler again.",
        evidence=(bottled.event.id, *held.ids),
        since=held.since,
        missing=() if before else ("the temperature on the day of bottling",),
        look_again=look_in(view, 1),
        action=("log", ""),
    )


def _can_work(bottled: AtBottling) -> bool:
    return bottled.primed or bottled.event.style == "sparkling" or not bottled.safe
