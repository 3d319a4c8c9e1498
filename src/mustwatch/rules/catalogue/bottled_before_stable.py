"""It was bottled before readings showed that it had come to rest.

What it looks for
    A bottling without two readings that agree within a point, seven days apart, before it; fourteen days apart
    where it was sweet, strong (began above 1.110, or may hold more than 14 % of alcohol) or cold, was pitched twice
    or had stalled. Two readings on one day count as one. Sugar added after the last reading undoes the proof.
    Missing readings count as not at rest. Bottles heated to 60 °C or more for 50 pasteurisation units are a thing to
    watch, and sound once one that was opened two weeks later reads no lower.

Why it matters
    A batch that still falls by half a point a day passes for quiet in half of the quick looks. Each point it loses
    in the bottle makes half a volume of gas, and one point is less than a mark on the hydrometer.

What to do
    Cover the bottles where they lie and chill them. Move them only covered and cold, with gloves and a face shield.
    Open one cold over the sink and read its gravity when flat. If it has fallen, or hisses, put all of it back
    under an airlock.

Source
    How often a moving batch seems at rest: simulated with an error of one point, 8 to 48 % where rushed, medium
    confidence. A week and two weeks: common practice, medium confidence. Fifty pasteurisation units, minutes at
    60 °C, for fermented drinks of the strength of cider: cider makers' published practice, medium confidence.
"""

from mustwatch.judgement.bottlings import AtBottling, at_bottlings, glass, opened_well, rests_in_bottles, what_went_in
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, View, look_in, words, worst
from mustwatch.said.telling import lots_in_words

RULE = Rule(
    name="bottled-before-stable",
    severity=Severity.DANGER,
    stages=frozenset({"bottled"}),
    explains=("over-the-bottle",),
)


def check(view: View) -> Findings:
    """A finding when a bottling came before the proof of rest, until the bottles themselves prove it."""
    return worst(found for bottled in at_bottlings(view.batch) for found in _of(view, bottled))


def _of(view: View, bottled: AtBottling) -> Findings:
    if rests_in_bottles(view.batch, bottled):
        return
    if opened_well(view.batch, bottled) or bottled.heated is not None:
        severity = Severity.WATCH
    else:
        severity = Severity.DANGER if glass(bottled.event) else Severity.TODAY
    yield _finding(view, bottled, severity)


def _finding(view: View, bottled: AtBottling, severity: Severity) -> Finding:
    last = bottled.last
    unread = RULE.cannot_judge("gravity before bottling", "a batch that still ferments in its bottles")
    return RULE.found(
        view,
        severity,
        f"Bottled on {words.date(view, bottled.event.at)} ({lots_in_words(bottled.event)}) before it was proven to be"
        f" at rest: {_shortfall(view, bottled)}.{words.heated(view, bottled.heated)}",
        why="What still ferments in a closed bottle makes half a volume of gas for every point, and the glass may"
        " burst."
        if severity is Severity.DANGER
        else "What still ferments in a closed bottle builds pressure.",
        do=(
            "Cover the bottles where they lie, and chill them. Keep everybody away.",
            "Move them only covered and cold, with gloves and a face shield.",
            "Open one cold over the sink, face and hands covered. Read its gravity when flat.",
            "If it has fallen or hisses, pour all of it back under an airlock.",
        ),
        clears_when="a bottle opened two weeks or more after bottling reads the same as before it.",
        evidence=bottled.evidence,
        since=bottled.event.at,
        missing=() if last else (unread,),
        look_again=look_in(view, 1 if severity is Severity.DANGER else 7),
        action=("log", ""),
    )


def _shortfall(view: View, bottled: AtBottling) -> str:
    if bottled.last is None:
        return "no gravity was read"
    if bottled.woken_by is not None:
        after = ", after the bottling as it is written" if bottled.woken_by.at > bottled.event.at else ""
        day = words.date(view, bottled.woken_by.at)
        return f"{what_went_in(bottled.woken_by)} went in on {day}{after}, and nothing was read after it"
    if len(bottled.proof.rest.readings) < 2:
        stands = f"{words.gravity(view, bottled.last.sg)} on {words.date(view, bottled.last.at)}"
        return f"the last reading, {stands}, has none to agree with"
    return f"its readings had agreed for {words.span(bottled.proof.rest.days)}, {words.needed(bottled.proof.needed)}"
