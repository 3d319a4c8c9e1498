"""It was bottled sweet, and nothing keeps the sugar from fermenting.

What it looks for
    A gravity above 1.000 at bottling, or sugar added after the last reading, in closed bottles, without both
    sulfite and sorbate recorded with their amounts, in a volume that is known. Yeast at the end of its strength is
    no stabiliser. A dose without its amount counts as none, and so does sorbate below 10 % vol, above pH 3.5, or
    below nine tenths of what alcohol and pH ask for. A bottle opened two months later that reads the same makes it
    a thing to watch, no more; so does heating the bottles to 60 °C or more, in the middle of a bottle, for 50
    pasteurisation units (10 minutes at 65 °C). One that was opened two weeks after it and reads no lower ends it.

Why it matters
    More than two grams of sugar a litre can start again in a warm month. Every point that ferments makes half a
    volume of gas. A still-wine bottle is made for none, a beer bottle for the gas of five points, and only a
    sparkling-wine bottle, in a cool cellar, for that of ten.

What to do
    Cover the bottles where they lie and chill them. Move them only covered and cold, with gloves and a face shield.
    Open them slowly, one by one, and pour them back. Stabilise the batch under an airlock, wait until two readings
    two weeks apart agree, and bottle again. Or keep it cold and drink it soon.

Source
    Two grams a litre: winemaking textbooks on stabilising sweet wine, high confidence. That strong yeast starts
    again after heat or cold: common practice, medium confidence. Fifty pasteurisation units, minutes at 60 °C, for
    fermented drinks of the strength of cider: cider makers' published practice, medium confidence.
"""

from mustwatch.judgement.bottlings import AtBottling, at_bottlings, glass, steady_in_bottle, what_went_in
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, View, look_in, words, worst
from mustwatch.said.telling import lots_in_words

RULE = Rule(
    name="bottled-sweet",
    severity=Severity.DANGER,
    stages=frozenset({"bottled"}),
    explains=("bottled-before-stable", "over-the-bottle"),
)

SLEPT_DAYS = 60.0  # two weeks show that it stands still, not that it will sleep through a summer


def check(view: View) -> Findings:
    """A finding when sugar was bottled without a stabiliser."""
    return worst(found for bottled in at_bottlings(view.batch) for found in _of(view, bottled))


def _of(view: View, bottled: AtBottling) -> Findings:
    if bottled.proof.protection.holds or bottled.heat_held or not bottled.sweet:
        return
    if steady_in_bottle(view.batch, bottled, SLEPT_DAYS) or bottled.heated is not None:
        severity = Severity.WATCH
    else:
        severity = Severity.DANGER if glass(bottled.event) else Severity.TODAY
    yield _finding(view, bottled, severity)


def _finding(view: View, bottled: AtBottling, severity: Severity) -> Finding:
    watch = severity is Severity.WATCH
    return RULE.found(
        view,
        severity,
        f"Bottled sweet on {words.date(view, bottled.event.at)} ({lots_in_words(bottled.event)})"
        f" {_how_sweet(view, bottled)}, and nothing keeps it so: {bottled.proof.protection.against}."
        f"{words.heated(view, bottled.heated)}",
        why="Sugar that is left can ferment in the bottle in any warm month. Every point makes half a volume of gas,"
        " and only bottles made for gas bear it.",
        do=("Keep the bottles cool and boxed. Open one before each warm season.",)
        if watch
        else (
            "Cover the bottles where they lie, and chill them. Keep everybody away.",
            "Move them only covered and cold, with gloves and a face shield.",
            "Open them slowly, one by one. Pour the batch back under an airlock.",
            "Stabilise it there, wait for two steady weeks, then bottle it again.",
        ),
        clears_when="sulfite and sorbate from before bottling are recorded with their amounts, or no bottle is left.",
        evidence=bottled.evidence,
        since=bottled.event.at,
        missing=(*words.unknown_stabilisers(view), *bottled.proof.protection.missing),
        look_again=look_in(view, 30 if watch else 1),
        action=None if watch else ("pour-back", ""),
    )


def _how_sweet(view: View, bottled: AtBottling) -> str:
    if bottled.woken_by is not None and bottled.woken_by.kind == "pitched" and bottled.last is not None:
        return f"at {words.gravity(view, bottled.last.sg)} when last read, before yeast went in"
    if bottled.woken_by is not None:
        after = ", after the bottling as it is written" if bottled.woken_by.at > bottled.event.at else ""
        return f"with {what_went_in(bottled.woken_by)} added on {words.date(view, bottled.woken_by.at)}{after}"
    return f"at {words.gravity(view, bottled.sg or 1.0)}"
