"""The floating fruit was not pushed under for too long.

What it looks for
    Fruit in a working must above 1.020 whose cap was not pushed, swirled or stirred for half a day and a little;
    more than a day is a thing for today. Fruit in a weighted bag needs it once a day: hush this then, or set the
    hours.

Why it matters
    A dry cap of fruit gathers vinegar bacteria and mould, heats up and holds back gas.

What to do
    Push it under with something clean, gently; a cap full of gas can foam over.

Source
    At least twice a day: a bulletin of the United States Department of Agriculture, high confidence; two to four
    times: common practice.
"""

from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.rules.evidence.vessel import fruit_in_since
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, words

RULE = Rule(
    name="fruit-cap-dry",
    severity=Severity.TODAY,
    stages=frozenset({"primary"}),
    thresholds={
        "watch": Threshold(14.0, 6.0, 48.0, "hours", "without a push, a thing to watch"),
        "today": Threshold(26.0, 8.0, 96.0, "hours", "without a push, a thing for today"),
    },
)
SUNK_SG = 1.020
PUSHES = frozenset({"cap_pushed", "swirled", "aerated"})


def check(view: View) -> Findings:
    """A finding while fruit floats and was not pushed."""
    batch = view.batch
    fruit = fruit_in_since(batch)
    if fruit is None or _sunk(batch):
        return
    pushed = _last_push(batch, fruit[0])
    hours = (view.now - pushed[0]) / timedelta(hours=1)
    if hours < RULE.number(view, "watch"):
        return
    late = hours >= RULE.number(view, "today")
    ever = pushed[1] is not None
    yield RULE.found(
        view,
        Severity.TODAY if late else Severity.WATCH,
        f"The fruit was last pushed under {words.ago(view, pushed[0])}, on {words.date(view, pushed[0])}."
        if ever
        else f"Fruit floats in it since {words.date(view, pushed[0])}, and no push is recorded.",
        do=("Push it under with something clean, slowly: a cap full of gas can foam over.",),
        clears_when="the cap is pushed and that is recorded, the fruit is taken out, or two readings lie below"
        f" {words.gravity(view, SUNK_SG)}.",
        evidence=(fruit[1], pushed[1]),
        since=pushed[0],
        missing=() if batch.latest else ("a gravity reading; until there is one, treat the must as still working",),
        look_again=view.now + timedelta(hours=6),
        action=("log", "pushed"),
    )


def _sunk(batch: Batch) -> bool:
    """Whether two readings agree that the vigorous part is over."""
    last = batch.good_readings[-2:]
    return len(last) == 2 and all(reading.sg <= SUNK_SG for reading in last)


def _last_push(batch: Batch, since: datetime) -> tuple[datetime, str | None]:
    for event in reversed(batch.story):
        if event.at <= since:
            break
        if event.kind in PUSHES:
            return event.at, event.id
    return since, None
