"""A bottle that should be still holds gas.

What it looks for
    A look, a tasting or a bottle taken, after a still bottling, whose words tell of gas: it hissed, foamed, gushed,
    fizzed or tasted of gas, or the cork or cap moved. Foam or a bubbling airlock on a batch that lies in bottles
    alone is one too. Words that deny it do not count. Bottles meant to sparkle are left to their rating. A bottle
    opened well a month later, or two bottles that read as at bottling since, make it a thing to watch.

Why it matters
    Gas in a still bottle was made in the bottle, and nobody knows how much is still to come. Bottles for still wine
    are made for no pressure.

What to do
    Cover the lot where it lies and keep away. Open another bottle cold, over the sink, with eyes, face and hands
    covered, and read its gravity when flat. If it is lower than at bottling, or hisses too, pour the lot back under an
    airlock.

Source
    Common practice, high confidence. Some gas may be left from the ferment where it was bottled young: which of the
    two it is, only the gravity of an opened bottle tells, medium confidence.
"""

from mustwatch.judgement.bottlings import at_bottlings, glass
from mustwatch.judgement.gassy import gas_signs, is_still, opened_well_since, read_well_since, words_of
from mustwatch.ledger.events import Event
from mustwatch.rules.evidence.bottles import lots_meant
from mustwatch.rules.rule import Findings, Rule, Severity, View, look_in, words

RULE = Rule(
    name="still-bottle-gassy",
    severity=Severity.DANGER,
    stages=frozenset({"bottled"}),
    explains=(
        "bottle-reads-low", "bottled-sweet", "bottled-before-stable", "over-the-bottle", "bottles-in-warmth",
    ),
)  # fmt: skip


def check(view: View) -> Findings:
    """A finding when a still bottle of what is left told of gas."""
    batch = view.batch
    still = [bottled.event for bottled in at_bottlings(batch) if is_still(bottled.event)]
    signs = gas_signs(batch) if still else []
    if not signs:
        return
    last = signs[-1]
    sure = len(still) == len(batch.on_shelf)
    yield RULE.found(
        view,
        _severity(view, signs, sure and any(glass(event) for event in still)),
        f"A bottle that should be still told of gas on {words.date(view, last.at)}"
        f" ({lots_meant(still, map(words_of, signs))}).",
        do=(
            "Keep everybody away. Cover the lot where it lies. Move it only covered and cold.",
            "Open another bottle cold, over the sink, with eyes, face and hands covered.",
            "Read its gravity when flat. If it is low or hisses too, pour all of it back under an airlock.",
        ),
        clears_when="a bottle opened a month later is well, two bottles read as at bottling, or none is left.",
        evidence=(*(event.id for event in signs[-3:]), still[-1].id),
        since=last.at,
        missing=() if sure else ("of which lot the bottle was",),
        look_again=look_in(view, 1),
        action=("log", ""),
    )


def _severity(view: View, signs: list[Event], dangerous: bool) -> Severity:
    last = signs[-1]
    if opened_well_since(view.batch, last, signs) or read_well_since(view.batch, last):
        return Severity.WATCH
    return Severity.DANGER if dangerous else Severity.TODAY
