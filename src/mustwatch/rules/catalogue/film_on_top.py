"""A film lies on the surface and comes back.

What it looks for
    A flat or wrinkled film seen twice, a day or more apart, or seen once on a batch that has been racked, where no
    foam should be. A film seen once in the first weeks is asked about only. It counts as gone when looks without it
    span two weeks, for it grows back in two or three.

Why it matters
    Film yeast lives on air and alcohol. It leaves a stale, chalky or solvent taste, and where it grows vinegar
    bacteria can follow.

What to do
    Rack from under the film into a smaller vessel, leave the film behind, fill it near the neck, and set sulfite to
    the pH. Drink it early. If the film is fuzzy or coloured, it is mould: discard it.

Source
    Racking from under, filling up, sulfite: common practice, medium confidence. The two to three weeks: one hobby
    source, low confidence.
"""

from datetime import timedelta

from mustwatch.rules.evidence.sightings import Look, cleaning_missing, fresh, ids, standing, surfaces
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="film-on-top",
    severity=Severity.TODAY,
    explains=("air-over-ageing",),
    thresholds={"gone_days": Threshold(14.0, 3.0, 60.0, "days", "so long without it before it counts as gone")},
)
FILM = frozenset({"film"})
FORGOTTEN_DAYS = 60.0


def check(view: View) -> Findings:
    """A finding when a film was seen and has not gone."""
    if not any(seen.surface == "film" for seen in view.batch.seen):
        return
    looks = surfaces(view.batch, FILM)
    run = standing(looks, RULE.number(view, "gone_days"))
    if not fresh(view, run, FORGOTTEN_DAYS):
        return
    racked = bool(view.batch.rackings)
    if racked or run[-1].at - run[0].at >= timedelta(days=1):
        yield _stays(view, run)
    else:
        yield _once(view, run)


def _stays(view: View, run: tuple[Look, ...]) -> Finding:
    return RULE.found(
        view,
        Severity.TODAY,
        f"A film lies on the surface, first seen on {words.date(view, run[0].at)}.",
        do=(
            "Look closely. A fuzzy or coloured film is mould: do not taste it, discard the batch.",
            "Otherwise rack from under the film into a smaller vessel. Fill that near the neck.",
            "Set sulfite to the pH, within local law. Keep the lock wet. Drink the mead early.",
        ),
        clears_when="looks at a clean surface span two weeks.",
        evidence=ids(run),
        since=run[0].at,
        missing=cleaning_missing(view.batch),
        look_again=look_in(view, 3),
        action=("rack", ""),
    )


def _once(view: View, run: tuple[Look, ...]) -> Finding:
    return RULE.found(
        view,
        Severity.WATCH,
        f"A film was seen on {words.date(view, run[-1].at)}, once so far.",
        why="Rafts of yeast sink or come apart when the vessel is turned; a film closes over again.",
        do=("Turn the vessel gently and look again in three days.",),
        clears_when="looks at a clean surface span two weeks.",
        evidence=ids(run),
        since=run[0].at,
        missing=cleaning_missing(view.batch),
        look_again=look_in(view, 3),
        action=("log", ""),
    )
