"""The bottles are asked to hold more pressure than they can.

What it looks for
    Gas that is in the drink, plus what the priming sugar and the sugar left
    over will make, against the rating of each kind of bottle at 30 °C. Without
    a rating on record a beer bottle counts for 2.5 volumes, a sparkling-wine
    bottle for 6 bar, a soft-drink bottle for 4 volumes, and any other for
    nothing. In a bottle rated for nothing, half a volume made after bottling
    is too much. The gas already in it is reckoned from the warmest the must has
    been since it came to rest, not from the day of bottling. A sparkling-wine
    bottle that holds it in a cool cellar, and not at 30 °C, is a thing for
    today, as is a soft-drink bottle: see that they stay cool. What is to sparkle
    in a bottle rated for nothing is too much whatever makes the gas.

Why it matters
    Glass that holds at bottling bursts in the first hot week.

What to do
    Keep the bottles cold and boxed. Open and pour back what is over the
    rating, or move it cold into bottles made for it. Next time less sugar, or
    stronger bottles.

Source
    Solubility of carbon dioxide: published tables, high confidence. Ratings:
    makers' and common-practice figures, medium confidence. The gas from a
    gravity point: chemistry, high confidence.
"""

from __future__ import annotations

from collections.abc import Iterable

from mustwatch.judgement.bottles import AtBottling, at_bottlings
from mustwatch.judgement.doses import volume_at
from mustwatch.ledger.events import Lot
from mustwatch.rules import words
from mustwatch.rules.finding import Finding, Severity, worst
from mustwatch.rules.rule import Rule, Threshold
from mustwatch.rules.view import View, look_in
from mustwatch.said.telling import lots_in_words

RULE = Rule(
    name="over-the-bottle",
    severity=Severity.DANGER,
    stages=frozenset({"bottled"}),
    thresholds={
        "warmest": Threshold(30.0, 20.0, 45.0, "°C", "the warmest the bottles may ever stand"),
        "unrated": Threshold(0.5, 0.1, 1.5, "volumes", "so much gas made in an unrated bottle is too much"),
    },
)
COLD_CELLAR_C = 10.0  # where no temperature is on record the drink may hold as much gas as at this one
COOL_CELLAR_C = 12.0  # at which the working pressure of sparkling-wine bottles is meant
UNKNOWN_VOLUME_L = 1.0  # where nobody wrote down how much was bottled: priming sugar is weighed out by the litre
DRY_POINTS = -4.0  # a true dry end, in points, of a drink that is not proven to be at rest


def check(view: View) -> Iterable[Finding]:
    """A finding when planned gas exceeds what a bottle of any bottling is rated for."""
    return worst(found for bottled in at_bottlings(view.batch) for found in _of(view, bottled))


def _of(view: View, bottled: AtBottling) -> Iterable[Finding]:
    lots = bottled.event.lots or _undescribed(view, bottled)
    if bottled.sg is None or not lots:
        return
    filled = sum(lot.size_ml * lot.count for lot in lots) / 1000
    made = _made_volumes(bottled, filled)
    held, warmest_known = _held_volumes(view, bottled)
    over = [lot for lot in lots if _is_over(view, bottled, lot, held, made)]
    if over:
        yield _finding(view, bottled, over, held + made, made, warmest_known)


def _undescribed(view: View, bottled: AtBottling) -> tuple[Lot, ...]:
    """Bottles nobody described, of what was in the vessel: not rated for anything; none where nothing primed them."""
    if bottled.event.priming is None or not bottled.event.priming.g:
        return ()
    litres = volume_at(view.batch, bottled.event.at) or UNKNOWN_VOLUME_L
    return (Lot(size_ml=litres * 1000, count=1),)


def _made_volumes(bottled: AtBottling, filled: float) -> float:
    """Volumes that priming and the sugar left will make after bottling."""
    from mustwatch.trade.carbonation import VOLUMES_PER_POINT, volumes_from_sugar

    priming = bottled.event.priming
    volumes = 0.0
    if priming is not None and filled > 0:
        kind = priming.what if priming.what in ("glucose", "fructose", "honey") else "sucrose"
        volumes = volumes_from_sugar(min(400.0, priming.g / filled), kind)
    if bottled.guarded is None and (bottled.sweet or not bottled.steady):
        points = ((bottled.sg or 1.0) - 1) * 1000
        volumes += max(0.0, points - DRY_POINTS) * VOLUMES_PER_POINT
    return volumes


def _held_volumes(view: View, bottled: AtBottling) -> tuple[float, bool]:
    """(volumes already in the drink, whether a temperature since it came to rest was on record)."""
    from mustwatch.trade.carbonation import residual_volumes

    batch = view.batch
    since = view.verdict.rest.since or (batch.rackings[-1].at if batch.rackings else None)
    until = bottled.event.at
    warm = [
        t.celsius for t in batch.temperatures if t.at <= until and (since is None or t.at >= since) and not t.of_air
    ]
    warmest = max(warm) if warm else COLD_CELLAR_C
    return residual_volumes(min(40.0, max(0.0, warmest))), bool(warm)


def _is_over(view: View, bottled: AtBottling, lot: Lot, held: float, made: float) -> bool:
    from mustwatch.trade.pressure import bottle_rating_bar, bottle_rating_volumes, gauge_bar

    if bottled.event.style == "sparkling" and not bottled.primed and _bears(lot) <= 0:
        return True
    if lot.rating_bar:
        total = min(100.0, held + made)
        return gauge_bar(total, RULE.number(view, "warmest")) > bottle_rating_bar("other", min(20.0, lot.rating_bar))
    rated = bottle_rating_volumes(lot.bottle)
    return made > RULE.number(view, "unrated") if rated <= 0 else held + made > rated


def _bears(lot: Lot) -> float:
    from mustwatch.trade.pressure import bottle_rating_bar

    return bottle_rating_bar(lot.bottle, min(20.0, lot.rating_bar) if lot.rating_bar else None)


def _holds_cool(lot: Lot, volumes: float) -> bool:
    """Whether it holds this in a cool cellar: sparkling-wine bottles are meant to, and PET leaves no shards."""
    from mustwatch.trade.pressure import bottle_rating_bar, gauge_bar

    if lot.bottle not in ("sparkling", "pet") or lot.rating_bar:
        return False
    return gauge_bar(min(100.0, volumes), COOL_CELLAR_C) <= bottle_rating_bar(lot.bottle)


def _finding(
    view: View, bottled: AtBottling, over: list[Lot], volumes: float, made: float, warmest_known: bool
) -> Finding:
    from mustwatch.trade.pressure import gauge_bar

    bar = gauge_bar(min(100.0, volumes), RULE.number(view, "warmest"))
    milder = all(_holds_cool(lot, volumes) for lot in over)
    event = bottled.event.model_copy(update={"lots": tuple(over) if bottled.event.lots else ()})
    return RULE.found(
        view,
        Severity.TODAY if milder else Severity.DANGER,
        f"What is to sparkle is in {lots_in_words(event)}, which are made for no pressure."
        if not made
        else f"About {volumes:.1f} volumes of gas could be in {lots_in_words(event)}, {made:.1f} of them made in the"
        f" bottle: about {bar:.1f} bar at {words.temperature(view, RULE.number(view, 'warmest'))}, more than they"
        " are made for.",
        why="Glass that holds on the day of bottling bursts in the first hot week.",
        do=(
            "Keep these bottles cold, in a closed box, where nobody passes.",
            "Open one over the sink with eyes and hands covered; if it hisses hard, pour back what is over.",
            "Next time less sugar, or bottles rated for it.",
        ),
        clears_when="a rating that holds is recorded for these bottles, or none is left.",
        evidence=(*bottled.rest.ids, bottled.event.id),
        since=bottled.event.at,
        missing=_missing(view, bottled, over, warmest_known),
        look_again=look_in(view, 1),
        action=("bottle", ""),
    )


def _missing(view: View, bottled: AtBottling, over: list[Lot], warmest_known: bool) -> tuple[str, ...]:
    unrated = dict.fromkeys(lot.bottle.replace("-", " ") for lot in over if not lot.rating_bar)
    facts = [f"the rating of the {kind} bottles" for kind in unrated]
    if bottled.event.style == "sparkling" and not bottled.primed:
        facts.append("what makes it sparkle, and how much of it")
    if not bottled.event.lots:
        facts = ["how many bottles there are, of what kind and size; bottles that bear nothing are assumed"]
    if not warmest_known:
        assumed = words.temperature(view, COLD_CELLAR_C)
        facts.append(f"the warmest it has been since it came to rest; {assumed} is assumed")
    return tuple(facts)
