"""Worked procedures: what to do step by step where a finding's few lines are too short for it.

`WORKED_PAGES` holds them by name, `worked_pages_for` finds those that belong to a rule's finding.
"""

from collections.abc import Iterable

from mustwatch.rules.normal import NORMAL_PAGES

WORKED_PAGES = {
    "restart-a-stall": """\
Restart a stalled must with fresh yeast

Before you start
  Mend the cause first: warmth, pH, food. Rouse the lees. Read the gravity
  daily for five days. Go on only if it has not fallen by three points.
  Do not try it in a must that holds sorbate: new yeast cannot multiply in
  it. Above about 14 % vol the chance is small. Then keep the drink sweet.
  Keep a fifth of the vessel free. Keep it under an airlock throughout.

What you need, for each litre of stalled must
  0.5 g of dry yeast that bears the final strength: sparkling or
  high-tolerance. 5 mL of water to rehydrate it. 50 mL of water and 5 g of
  honey for the starter. Sanitised jars with four times the room they need.

1. Rehydrate, 20 minutes
  Warm the 5 mL of water to 35 to 40 °C. Sprinkle the yeast on it. Leave it
  for 15 minutes. Stir it. Use it within five minutes more. Where the
  packet says otherwise, follow the packet.

2. Start it, about a day
  Mix 50 mL of stalled must with the 50 mL of water and the honey. Bring it
  to 25 °C. Give it yeast food by its label. Shake air into it. Let the
  yeast cool until it is within 10 °C of the mix. Add a spoonful of the mix
  to the yeast. Wait five minutes, then add the rest. Cover it loosely.
  Never close the jar: it makes gas.

3. Accustom it to alcohol, two or three days
  Read its gravity, or watch for foam. Once it has fallen by half,
  double it with 100 mL of stalled must. Keep it at 20 to 25 °C.
  When that works, double it again with 200 mL. Each step takes 12 to 24
  hours. Add the must at the jar's own temperature, within 5 °C.

4. Join it to the rest
  Bring the stalled must to 20 to 25 °C, within the new yeast's range.
  Pour the working starter in. Swirl gently. Do not beat air into
  the large vessel. Record the yeast as a pitching, with its grams.

5. Read it daily
  Expect the first fall within three days. Let it go on until readings two
  weeks apart agree. A must pitched twice needs those two weeks.

When to give up
  A starter that does not work after two days is dead: begin it anew once.
  If the joined must has not fallen by three points in seven days, stop.
  After two tries keep it sweet. Stabilise it, or blend it with a dry one.
  Never bottle a stalled must as it is: it can start again in the bottle.

Source
  0.5 g/L of yeast, rehydrated in ten times its mass of water, a starter of
  diluted must and doubling with the stalled one at 20 to 25 °C: Australian
  Wine Research Institute, fact sheet on rescuing stuck ferments (2020),
  and university extension notes; figures from memory, medium confidence.
  10 °C between yeast and mix: yeast makers' advice, from memory, medium
  confidence. Three points, seven days, two tries, 14 % vol: common
  practice, low confidence.""",
}
_FOR_RULES = {"stalled": ("restart-a-stall",)}


def plain_page(name: str) -> str | None:
    """The page of what is no rule: a procedure, or what is normal; None where no page has this name."""
    return WORKED_PAGES.get(name) or NORMAL_PAGES.get(name)


def worked_pages_for(rules: Iterable[str]) -> tuple[str, ...]:
    """Names of the procedures that belong to findings of these rules."""
    return tuple(dict.fromkeys(name for rule in rules for name in _FOR_RULES.get(rule, ())))
