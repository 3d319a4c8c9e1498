"""A sparkling lot was closed without a bottle that shows its pressure.

What it looks for
    A sparkling or primed bottling, in its first two months, without a PET bottle among it, without a gauge noted,
    and without a test bottle opened.

Why it matters
    Nobody can see the pressure in glass before it is too late.

What to do
    Open one cold each week over the sink and write down how it hissed. Next time fill one PET bottle: it grows hard
    as the pressure comes.

Source
    Common practice, medium confidence.
"""

import re

from mustwatch.judgement.bottlings import at_bottling
from mustwatch.ledger.events import Took
from mustwatch.rules.rule import Findings, Rule, Severity, Threshold, View, look_in, words
from mustwatch.said.telling import lots_in_words

RULE = Rule(
    name="no-witness-bottle",
    severity=Severity.NOTE,
    stages=frozenset({"bottled"}),
    thresholds={"days": Threshold(60.0, 14.0, 365.0, "days", "from bottling; after that it is no longer said")},
)
GAUGE = re.compile(r"\b(gauge|PET|plastic|witness)\b", re.IGNORECASE)


def check(view: View) -> Findings:
    """A finding when nothing shows the pressure of a sparkling lot."""
    bottled = at_bottling(view.batch)
    if bottled is None:
        return
    event = bottled.event
    sparkling = event.style == "sparkling" or bottled.primed
    if not sparkling or words.days(view, event.at) > RULE.number(view, "days"):
        return
    if any(lot.bottle == "pet" for lot in event.lots) or GAUGE.search(event.note or ""):
        return
    if any(e.at > event.at and isinstance(e, Took) and e.why in ("tested", "drunk") for e in view.batch.story):
        return
    yield RULE.found(
        view,
        Severity.NOTE,
        f"Sparkling since {words.date(view, event.at)} ({lots_in_words(event)}), and no bottle shows its pressure.",
        do=(
            "Open one cold each week over the sink, and write down how it hissed.",
            "Next time fill one PET bottle with it: it grows hard as the pressure comes.",
        ),
        clears_when="a test bottle is opened, or two months are over.",
        evidence=(event.id,),
        since=event.at,
        missing=() if event.lots else ("which bottles were filled",),
        look_again=look_in(view, 7),
        action=("log", ""),
    )
