"""The bottles are asked to hold more pressure than they can.

What it looks for
    Gas that is in the drink, plus what the priming sugar and the sugar left over will make, against the rating of
    each kind of bottle at 30 °C, with the alcohol counted. Sugar left over is counted down to the driest that such
    a must gets, unless it was proven to be at rest and is dry or stabilised. Without a rating on record a beer
    bottle counts for 2.5 volumes, a sparkling-wine bottle for 6 bar, a soft-drink bottle for 4 volumes, and any
    other for nothing. In a bottle rated for nothing, half a volume made after bottling is too much. The gas already
    in it is reckoned from the warmest the must has been since it came to rest, not from the day of bottling. A
    sparkling-wine bottle that holds it in a cool cellar, and not at 30 °C, is a thing for today, as is a soft-drink
    bottle: see that they stay cool. What is to sparkle in a bottle rated for nothing is too much whatever makes the
    gas. Sugar left in bottles that were heated enough to stop its yeast does not count: glass that bore the
    heat bore more than it will.

Why it matters
    Glass that holds at bottling bursts in the first hot week.

What to do
    Cover the bottles where they lie and chill them. Move them only covered and cold, with gloves and a face shield.
    Pour back what is over the rating. Next time use less sugar, or stronger bottles.

    The 24 g of sugar a litre of the makers of sparkling wine give some six volumes. Their bottles bear that in a
    cool cellar, for which it is meant, and not in a hot room: so it is told, as a thing for today.

Source
    Solubility of carbon dioxide: published tables, high confidence. Ratings: makers' and common-practice figures,
    medium confidence. The gas from a gravity point: chemistry, high confidence. 24 g a litre for 5 to 6 atmospheres:
    Oxford Companion to Wine, medium confidence. Gloves and face shield: common practice.
"""

from mustwatch.judgement.bottlings import AtBottling, at_bottlings
from mustwatch.judgement.gas import UNDESCRIBED, UNRATED_VOLUMES, WARMEST_C, Gas, bears, gas_in_bottles, lot_rating_bar
from mustwatch.ledger.events import Lot
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words, worst
from mustwatch.said.telling import lots_in_words

RULE = Rule(
    name="over-the-bottle",
    severity=Severity.DANGER,
    stages=frozenset({"bottled"}),
    thresholds={
        "warmest": Threshold(WARMEST_C, 20.0, 45.0, "°C", "the warmest the bottles may ever stand"),
        "unrated": Threshold(UNRATED_VOLUMES, 0.1, 1.5, "volumes", "so much gas made in an unrated bottle is too much"),
    },
)
COOL_CELLAR_C = 12.0  # at which the working pressure of sparkling-wine bottles is meant


def check(view: View) -> Findings:
    """A finding when planned gas exceeds what a bottle of any bottling is rated for."""
    return worst(found for bottled in at_bottlings(view.batch) for found in _of(view, bottled))


def _of(view: View, bottled: AtBottling) -> Findings:
    # Bottles nobody described count as rated for nothing; where nothing primed them another rule speaks.
    lots = bottled.event.lots or (UNDESCRIBED if bottled.primed else ())
    gas = gas_in_bottles(view.batch, bottled)
    if gas is None or not lots:
        return
    over = [lot for lot in lots if _is_over(view, bottled, lot, gas)]
    if over:
        yield _finding(view, bottled, over, gas)


def _is_over(view: View, bottled: AtBottling, lot: Lot, gas: Gas) -> bool:
    if bottled.event.style == "sparkling" and not bottled.primed and lot_rating_bar(lot) <= 0:
        return True
    return not bears(lot, gas, view.settings)


def _holds_cool(lot: Lot, gas: Gas) -> bool:
    """Whether it holds this in a cool cellar: sparkling-wine bottles are meant to, and PET leaves no shards."""
    return lot.bottle in ("sparkling", "pet") and not lot.rating_bar and gas.bar(COOL_CELLAR_C) <= lot_rating_bar(lot)


def _finding(view: View, bottled: AtBottling, over: list[Lot], gas: Gas) -> Finding:
    bar = gas.bar(RULE.number(view, "warmest"))
    severity = Severity.TODAY if all(_holds_cool(lot, gas) for lot in over) else Severity.DANGER
    event = bottled.event.model_copy(update={"lots": tuple(over) if bottled.event.lots else ()})
    return RULE.found(
        view,
        severity,
        f"What is to sparkle is in {lots_in_words(event)}, which are made for no pressure."
        if not gas.made
        else f"About {gas.held + gas.made:.1f} volumes of gas could be in {lots_in_words(event)}, {gas.made:.1f} of"
        f" them made in the bottle: about {bar:.1f} bar at {words.temperature(view, RULE.number(view, 'warmest'))},"
        " more than they are made for.",
        do=(
            "Cover the bottles where they lie, and chill them. Keep everybody away.",
            "Move them only covered and cold, with gloves and a face shield.",
            "Open one cold over the sink. If it hisses hard, pour the lot back under an airlock.",
            "Next time use less sugar, or bottles rated for it.",
        ),
        clears_when="the maker's rating holds it and is recorded, or no bottle is left.",
        evidence=(*bottled.proof.rest.ids, bottled.event.id),
        since=bottled.event.at,
        missing=_missing(bottled, over, gas),
        look_again=look_in(view, 1),
        action=("pour-back", ""),
    )


def _missing(bottled: AtBottling, over: list[Lot], gas: Gas) -> tuple[str, ...]:
    unrated = dict.fromkeys(lot.bottle.replace("-", " ") for lot in over if not lot.rating_bar)
    facts = [f"the rating of the {kind} bottles" for kind in unrated]
    if bottled.event.style == "sparkling" and not bottled.primed:
        facts.append("what makes it sparkle, and how much of it")
    if not bottled.event.lots:
        facts = ["how many bottles there are, of what kind and size; bottles that bear nothing are assumed"]
    return (*facts, *gas.missing)
