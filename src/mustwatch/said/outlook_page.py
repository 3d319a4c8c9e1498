"""The page that explains the outlook to a mead maker."""

# (kind of log, logs, later readings, of 100 inside the band, of 100 points of the best naive forecast's miss left).
# Measured on logs that the fitted numbers had not seen: `python -m tests.bench.fitting --folds`, 26 November 2026.
# Only the width of the band was chosen with an eye on these figures.
HELD_OUT = (
    ("laboratory musts", 26, 1295, 74, 29),
    ("all kept at home", 20, 153, 74, 54),
    ("meads at home", 12, 125, 62, 58),
    ("after 2 readings", 42, 255, 76, 20),
    ("after 3 readings", 39, 228, 77, 51),
    ("after 4 readings", 33, 191, 86, 43),
    ("after 5 or more", 27, 774, 77, 71),
    ("all logs", 46, 1448, 74, 38),
)
BAR = 20


def _bar(inside: int) -> str:
    """A bar of so many in a hundred, with the mark where eighty lies."""
    filled = round(inside / 100 * BAR)
    signs = ["#" if place < filled else "." for place in range(BAR)]
    signs[round(0.8 * BAR)] = "|"
    return "".join(signs)


def calibration() -> str:
    """The table of how often later readings fell inside the band, by kind of log, in lines below 80 columns."""
    head = f"  {'':22} {'logs':>4} {'readings':>8}  {'in the band':<{BAR + 4}} {'miss left':>9}"
    rows = [
        f"  {name:22} {logs:4} {readings:8}  {_bar(inside)} {inside:3} {left:9}"
        for name, logs, readings, inside, left in HELD_OUT
    ]
    return "\n".join([head, *rows])


PAGE = f"""\
outlook: where a batch is heading, and how sure that is

What you see
  A middle line and a band. The middle is as likely too high as too low; eight
  readings in ten should fall inside the band. Early the band is wide. It
  narrows as you read, and it says so rather than guess.

How it is made
  A must starts slowly, falls fast, and then ever more slowly towards its end.
  The program draws hundreds of courses of that kind. What it expects at first
  comes from the kind of yeast, the warmth of the must, the start gravity, what
  the yeast can bear, and whether honey is in it. A must read finer than any
  hydrometer shows counts as a laboratory's, which runs steadier than one kept
  at home. Then every course is held against your readings: one that misses
  them counts little, one that meets them counts much. A single odd reading is
  taken for a slip and bends almost nothing; two that agree count. Readings all
  in steps of five points are believed to five points.
  Time counts by the must's temperature, as far as you wrote it down, else by a
  room of 21 °C. A batch carried into the cold is expected to slow.
  Past your last reading the courses spread: a ferment may speed up, slow down,
  or come to a stand, and some share of the courses does each.
  Honey, sugar, water or new yeast start a new course at the next reading. What
  was weighed counts until then.

What if
  outlook TAG --if "warmed to 20C"     also cooled
  outlook TAG --if "sweetened 10 points"    or: sweetened 100g honey
  outlook TAG --if "fed 1g DAP"
  outlook TAG --if "sealed now"
  It shows what would follow, saves nothing, and tells what the rules would
  say. A form tells the same while you fill it in.

The states
  lag         less than three points fallen, less than four days in.
  moving      the readings show a fall beyond a hydrometer's error.
  sluggish    falling less than 4 in 100 of what is left a day with a long way
              to go, or standing still a little above the end.
  stalled     even the fastest fall the readings allow is under a point a day,
              ten points or more above the least end. One window says "seems";
              a second reading day confirms; only a true fall ends it.
  undecided   the readings are too close or too few. It names the day on which
              one more would tell. Reading earlier is no harm, just no answer.
  stable      the readings agree over 7 days; over 14 if it is sweet, began
              above 1.110 or may hold more than 14 % of alcohol, is cold, was
              pitched twice, stalled before, or if its start is not known.
  finished    stable, and as far down as its yeast is said to go, or dry. No
              hydrometer sees the last two points of sugar; what may be left
              is said beside it.
  Stable is not finished, and finished is not safe to seal.

Two ends
  "Should have come at least" is where a yeast of the upper tolerance would
  have stopped, less one per cent of alcohol. It depends on the start gravity
  and the yeast alone. Points above it tell a stall from an end.
  "Will most likely end" is the forecast: eight in ten such batches end within
  that range. It depends on the readings too, and may lie above the first.

Gas
  One point still to fall is half a volume of gas. What is proven to be at
  rest, and is dry or holds enough sulfite and sorbate, makes none but by its
  priming sugar; "at most" counts all that could ferment elsewhere. The rules
  about sealed vessels and bottles count the same gas. The bar shown is what a
  closed vessel would reach at the warmest temperature last written down, with
  no gas lost. Jugs, carboys and still-wine bottles are not made for pressure,
  so theirs is nought. Never judge a sealed vessel by the forecast alone: open
  what can be opened, and keep glass behind something solid.

How well it has done
  On logs the program had not been fitted to, each log counting alike. Of 100
  later readings 80 should lie in the band, at the upright mark. The miss that
  is left is in 100 of that of the best simple guess: the last reading stays,
  goes on in a straight line, or dies away.

{calibration()}

  It is weak where you may need it most. Meads at home are only twelve logs:
  more readings fall outside the band than it says, and two of the twelve were
  fed at the very hour the forecast ended. After two or three readings it is
  little more than what is usual. Take the band for the least doubt there is.

What it cannot know
  Nutrients, acid and air. A change of warmth to come. A start read in an
  unmixed must, or a refractometer used as if it were one. That a yeast
  will give up before the readings show it, or wake again after they stopped.
  That somebody feeds it tomorrow. With one or two readings it mostly tells
  you what is usual.

What helps most
  The start gravity after thorough mixing, the kind of yeast, the temperature
  of the must, and a reading every two or three days. Five daily readings show
  a stall that two readings three days apart miss one time in three.
"""
