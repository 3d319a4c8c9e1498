"""A bottle reads lower than its lot did when it was bottled.

What it looks for
    Gravities read after bottling, of opened bottles, that lie more than 2.8 points below what the lot read at
    bottling, or below the first bottle where nothing was read then. The first asks for another bottle. The second is
    a danger, whatever was stabilised or proven before. What is to sparkle by the sugar left in it is held against the
    rating of its bottles instead. A bottle that fits another lot of the batch asks which lot it was of.

Why it matters
    A gravity that falls in a closed bottle has become gas: about half a volume for every point. A stabiliser that
    was weighed and a rest that was read are worth less than the bottle itself.

What to do
    Leave the bottles where they lie, covered, and keep everybody away. Read another bottle, opened cold over the sink
    with eyes, face and hands covered. If it is low too, chill the lot, open it one by one under a cloth, and pour it
    back under an airlock.

Source
    2.8 points are 1.96 times the error of the difference of two careful readings, one point each, medium confidence.
    The gas from a gravity point: chemistry, high confidence. That bottles overrule the records: common practice,
    high confidence.
"""

from mustwatch.cellar.batch import Reading
from mustwatch.judgement.bottlings import AtBottling, at_bottlings, glass
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, View, look_in, words, worst
from mustwatch.said.telling import lots_in_words

RULE = Rule(
    name="bottle-reads-low",
    severity=Severity.DANGER,
    stages=frozenset({"bottled"}),
    explains=("bottled-sweet", "bottled-before-stable", "over-the-bottle", "bottles-in-warmth", "gravity-rose"),
)


def check(view: View) -> Findings:
    """A finding for the lot whose bottles tell the worst."""
    return worst(found for bottled in at_bottlings(view.batch) for found in _of(view, bottled))


def _of(view: View, bottled: AtBottling) -> Findings:
    since = bottled.since
    if bottled.fell:
        yield _fallen(view, bottled)
    elif since.low or since.unsure:
        yield _asked(view, bottled)


def _fallen(view: View, bottled: AtBottling) -> Finding:
    low = bottled.since.low
    return RULE.found(
        view,
        Severity.DANGER if glass(bottled.event) else Severity.TODAY,
        f"{len(low)} readings of bottles ({lots_in_words(bottled.event)}) lie below the lot: {_fall(view, bottled)}."
        " It ferments in the bottle.",
        why="Every point that ferments in a closed bottle makes half a volume of gas, and the glass may burst."
        " Nothing that was added or proven before holds against it.",
        do=(
            "Keep everybody away until eyes, face and hands are covered.",
            "Cover the bottles where they lie, and chill them if you can.",
            "Move them only covered and cold, with gloves and a face shield.",
            "Open them cold, one by one under a cloth. Pour them back under an airlock.",
            "Record it once they are poured back.",
        ),
        clears_when="all of these bottles are poured back or gone, or a wrong reading is taken back.",
        evidence=(*bottled.evidence, *(reading.id for reading in low)),
        since=low[1].at,
        missing=_missing(bottled),
        look_again=look_in(view, 1),
        action=("pour-back", ""),
    )


def _asked(view: View, bottled: AtBottling) -> Finding:
    since = bottled.since
    sure = bool(since.low)
    reading = (since.low or since.unsure)[-1]
    answered = any(other.at > reading.at for other in since.others)
    return RULE.found(
        view,
        Severity.WATCH if answered else Severity.TODAY,
        f"A bottle of {lots_in_words(bottled.event)} read lower than its lot: {_fall(view, bottled)}."
        f"{' A later bottle did not.' if answered else ''}",
        why="One reading may be wrong, or one bottle foul. Two that are low mean that the lot ferments in the bottle.",
        do=(
            "Read another bottle, opened cold over the sink with eyes, face and hands covered.",
            "Until then cover the lot and keep away from it.",
        )
        if not answered
        else ("Read one more bottle before the next warm weather. Open it cold, face and hands covered.",),
        clears_when="all of these bottles are gone, or a wrong reading is taken back.",
        evidence=(*bottled.evidence, reading.id),
        since=reading.at,
        missing=_missing(bottled) if sure else ("of which lot the bottle was", *_missing(bottled)),
        look_again=look_in(view, 30 if answered else 1),
        action=("log", ""),
    )


def _fall(view: View, bottled: AtBottling) -> str:
    """The last low reading and its level: `1.004 on 3 May, 6 points below 1.010`."""
    since = bottled.since
    reading: Reading = (since.low or since.unsure)[-1]
    level = since.level if since.level is not None else reading.points
    return (
        f"{words.gravity(view, reading.sg)} on {words.date(view, reading.at)},"
        f" {words.points(level - reading.points)} below {words.gravity(view, 1 + level / 1000)}"
    )


def _missing(bottled: AtBottling) -> tuple[str, ...]:
    if bottled.sg is not None:
        return ()
    return (RULE.cannot_judge("gravity at bottling", "what the first bottle read"),)
