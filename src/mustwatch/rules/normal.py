"""Normal, and here is why: short pages on what worries people and need not.

`NORMAL_PAGES` holds them by name; `normal_pages_for` finds those that fit what was last seen of a batch.
Each page says when it is no longer normal, for that is the question behind the question.
"""

import re
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.events import Seen
from mustwatch.rules.evidence.sightings import says

RECENT = timedelta(days=14)
EARLY_SMELL = timedelta(days=5)

NORMAL_PAGES = {
    "rafts": """\
Rafts: pale islands float on the surface

What it is
  Yeast, bits of honey wax, fruit or foam, lifted by gas and held together.
  White, tan or brown, flat, often with bubbles underneath.

Why it is normal
  In the first weeks gas carries up what would sink. When the jug is turned
  the islands sink or come apart, and they are gone when the gas is.

When it is not
  Fuzzy, or blue, green, black, pink: that is mould. Do not taste it,
  discard the batch. A skin that closes again within days, or comes up after
  racking: see film-on-top. If you are not sure, note it as unsure, take a
  photograph, and look again in three days.

Source
  Common practice, high confidence.""",
    "ring": """\
Ring: a crust on the glass above the surface

What it is
  What the foam of the first days left behind when it fell: yeast, protein
  and wax, dried to a tan or brown ring.

Why it is normal
  Every lively start leaves one, and it shows that the yeast began. It stays
  on the glass when you rack, and washes off.

When it is not
  If it grows fur or turns blue, green, black or pink, it is mould: discard
  the batch. If foam reached the airlock, take the lock off, pointed away
  from you, and clean it, since dried foam can plug it: see lock-blocked.

Source
  Common practice, high confidence.""",
    "still-airlock": """\
Still airlock: no bubbles to be seen

What it is
  Gas leaves by the easiest way. A bung that does not seal, a lid, a cooler
  room or the slow end of a ferment all make a lock stand still.

Why it is normal
  Bubbles prove nothing either way: a leaky bung shows none in a lively
  must, and a warming room shows many in a finished one. Only the hydrometer
  tells.

When it is not
  A still lock over foam, or with a domed lid, may be plugged: open it
  slowly, pointed away. A dry lock lets air in: fill it. After four days
  without any sign take a reading. And a still lock is never a reason to
  close a vessel: readings apart in time are.

Source
  Common practice, high confidence.""",
    "lees": """\
Lees: a layer settles on the bottom

What it is
  Yeast, pulp and protein that the ferment no longer holds up. It may rise
  and fall while gas is made, and lie in two colours.

Why it is normal
  Every ferment drops them, from a few millimetres to a fifth of the jug
  with fruit. Fine lees do no harm for weeks.

When it is not
  After some two months on the thick first layer, or a month after it came
  to rest, rack it off: see long-on-gross-lees. A smell of egg that stays is
  a reason to be quicker. Do not rack to mend a stall, it takes the yeast
  away. Sediment that grows in closed bottles is gas being made: chill them
  upright in a closed crate and handle them with eyes and hands covered.

Source
  Common practice, medium confidence.""",
    "murk": """\
Murk: it is cloudy

What it is
  Yeast at work, and fine pulp. A must with honey and water is often milky
  for the whole of the first month.

Why it is normal
  Yeast that works floats. It settles by itself within weeks of the end,
  sooner in the cold.

When it is not
  Still hazy three months on, at rest: see haze-stays. Clear, and then
  cloudy again by itself: read the gravity, it may have started anew, and
  open what is closed. A haze is no proof of life, and a clear jug no proof
  of rest.

Source
  Common practice, high confidence.""",
    "foam": """\
Foam: it froths, or rises when stirred

What it is
  Gas leaving a must that is full of it. Sugar, fruit and a warm day make
  more.

Why it is normal
  The first days are the liveliest. Stirring or any powder frees the gas at
  once, also in a must that looked flat. Froth from a no-rinse acid
  sanitiser is normal too.

When it is not
  Foam in the airlock plugs it, and a plugged lock is a closed vessel: take
  it off, pointed away from you, fit a wide tube. Keep a tenth of the vessel
  free, a fifth with fruit. Stir gently at first, and dissolve powders in a
  cup of water before they go in. Air the room: the gas is carbon dioxide,
  and it lies on the floor.

Source
  Common practice, high confidence.""",
    "early-sulphur": """\
Early sulphur: a whiff of egg in the first days

What it is
  Hydrogen sulfide, made by yeast that grows fast and looks for food. The
  nose finds a millionth of a gram in a litre.

Why it is normal
  A faint whiff from the second to the fourth day comes with many yeasts and
  leaves with the gas. Honey has little food for yeast, so that it is
  commoner here than in wine.

When it is not
  When it stays past the fifth day or grows: see egg-smell. Swirl gently,
  and feed if the one-third break is not past. Put no copper in. A struck
  match just after sulfite went in is the sulfite itself, and passes.

Source
  University extension notes, high confidence; the days are common practice,
  medium confidence.""",
}
_OF_SURFACE = {"rafts": "rafts", "ring": "ring", "foam": "foam"}
_OF_AIRLOCK = {"still": "still-airlock"}
_OF_CLARITY = {"murky": "murk", "hazy": "murk"}
_LEES = re.compile(r"\b(lees|sediment|dregs|layer)\b", re.I)
_EGG = re.compile(r"\b(eggs?|eggy|sulphur\w*|sulfur\w*|struck match)\b", re.I)


def normal_pages_for(batch: Batch, now: datetime | None = None) -> tuple[str, ...]:
    """Names of the pages that fit what was seen in the last two weeks, the newest look first.

    now: when the question is asked; without it, the batch's own last event.
    """
    until = now or (batch.story[-1].at if batch.story else None)
    if until is None:
        return ()
    names: list[str] = []
    for seen in reversed(batch.seen):
        if until - seen.at < RECENT:
            names += _pages_of(seen, batch)
    return tuple(dict.fromkeys(names))


def _pages_of(seen: Seen, batch: Batch) -> list[str]:
    found = [
        _OF_SURFACE.get(seen.surface or ""),
        _OF_AIRLOCK.get(seen.airlock or ""),
        _OF_CLARITY.get(seen.clarity or ""),
        "lees" if says(" ".join(seen.signs), _LEES) else None,
        "early-sulphur" if _early(seen, batch) else None,
    ]
    return [name for name in found if name is not None]


def _early(seen: Seen, batch: Batch) -> bool:
    if batch.pitched is None or seen.at - batch.pitched.at >= EARLY_SMELL:
        return False
    return says(" ".join(seen.smell), _EGG)
