"""Clear glass stands in the light.

What it looks for
    A batch in a jug, carboy or bottles that stands lit, by its last move, for more than two days, and for more than
    three weeks as the worse case. A bucket, a barrel, a keg and steel let no light in. Glass is assumed where the
    vessel is not recorded.

Why it matters
    Light makes sulphur smells and fades colour within days to weeks; clear glass keeps back about a tenth of it.

What to do
    Move it to a dark place, or wrap it: a box, a cloth or foil will do.

Source
    Light-struck wine after days to weeks: review in IVES, OENO One, high confidence for wine. That mead behaves
    alike, and what clear glass keeps back: common practice, medium confidence.
"""

from mustwatch.ledger.events import Moved
from mustwatch.rules.rule import LIVING_STAGES, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="glass-in-light",
    severity=Severity.TODAY,
    stages=LIVING_STAGES,
    thresholds={
        "days": Threshold(2.0, 0.5, 30.0, "days", "in the light before it is said"),
        "long_days": Threshold(21.0, 3.0, 120.0, "days", "in the light before it must be seen to"),
    },
)
DARK_VESSELS = frozenset({"bucket", "barrel", "keg", "steel", "tank", "crock", "stoneware", "wood"})


def check(view: View) -> Findings:
    """A finding when glass has stood in the light."""
    batch = view.batch
    if batch.light != "lit":
        return
    bottled = batch.stage == "bottled"
    if not bottled and batch.vessel_kind in DARK_VESSELS:
        return
    moved = _lit_since(view)
    if moved is None:
        return
    days = words.days(view, moved.at)
    if days < RULE.number(view, "days"):
        return
    yield RULE.found(
        view,
        Severity.TODAY if days >= RULE.number(view, "long_days") else Severity.WATCH,
        f"It has stood in the light since {words.date(view, moved.at)}"
        + (f" ({moved.place[:40]})." if moved.place else "."),
        do=("Move it to a dark place, or wrap it in cloth, a box or foil.",),
        clears_when="it is moved to a dark place, and that is recorded.",
        evidence=(moved.id,),
        since=moved.at,
        missing=("what vessel it is in; clear glass is assumed",)
        if not bottled and batch.vessel_kind in (None, "unknown")
        else (),
        look_again=look_in(view, 1),
    )


def _lit_since(view: View) -> Moved | None:
    """The move that brought it into the light, or the first of several in a row."""
    first: Moved | None = None
    for event in view.batch.story:
        if isinstance(event, Moved) and event.light is not None:
            first = (first or event) if event.light == "lit" else None
    return first
