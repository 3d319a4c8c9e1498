"""Too much air stands over a batch that is at rest.

What it looks for
    An ageing batch, a week or more after its racking, with more free room over it than 6 % of the vessel, and twice
    that as the worse case. Room is what was noted at the racking, or the vessel's size less its volume. A batch
    that still works is left alone: its own gas covers it.

Why it matters
    A litre of air over a gallon brings some 75 mg of oxygen to each litre, which browns it, flattens its smell,
    uses up four times its weight of sulfite and feeds film yeast.

What to do
    Fill it up with a mead of its kind, rack it into a smaller vessel, or sink sanitised glass marbles. Leave room
    to expand: a vessel full to the bung can push it out or break in a warm spell.

Source
    A few centimetres below the bung: common practice, medium confidence. As a share of the vessel it is a
    judgement, low confidence. Oxygen and sulfite: chemistry, high confidence.
"""

from datetime import timedelta

from mustwatch.ledger.events import Added, Racked
from mustwatch.rules.evidence.latch import Held, Sample, held_above
from mustwatch.rules.evidence.vessel import MOST_AIR_PCT
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="air-over-ageing",
    severity=Severity.TODAY,
    stages=frozenset({"ageing"}),
    thresholds={
        "share": Threshold(MOST_AIR_PCT, 2.0, 30.0, "% of the vessel", "more room than this is too much in ageing"),
        "days": Threshold(7.0, 1.0, 60.0, "days", "after a racking, for degassing and topping up"),
    },
)
CLEARED = 0.8  # of the threshold: a vessel filled up to here is filled up


def check(view: View) -> Findings:
    """A finding when a resting batch has had too much room over it for a week."""
    batch = view.batch
    if not batch.rackings or batch.headspace_l is None or not batch.capacity_l:
        return
    if view.now - batch.rackings[-1].at < timedelta(days=RULE.number(view, "days")):
        return
    limit = RULE.number(view, "share")
    held = held_above(_shares(view), limit, limit * CLEARED)
    if held is not None:
        yield _finding(view, held, limit)


def _shares(view: View) -> list[Sample]:
    """The free room after each racking and each filling up, as % of the vessel."""
    samples = []
    batch = view.batch
    capacity_l: float | None = None
    room_l: float | None = None
    for event in batch.story:
        if isinstance(event, Racked):
            capacity_l = event.vessel.capacity_l
            room_l = event.headspace_l
            if room_l is None and capacity_l and event.volume_l:
                room_l = capacity_l - event.volume_l
        elif isinstance(event, Added) and event.l and room_l is not None:
            room_l -= event.l
        else:
            continue
        if capacity_l and room_l is not None:
            samples.append(Sample(event.at, max(0.0, room_l) / capacity_l * 100, event.id))
    return samples


def _finding(view: View, held: Held, limit: float) -> Finding:
    share = held.last.value
    return RULE.found(
        view,
        Severity.TODAY if share > 2 * limit else Severity.WATCH,
        f"About {share:.0f} % of the vessel is air, since {words.date(view, held.since)}, and nothing ferments to"
        " cover it.",
        why="Air browns it, flattens its smell, uses up sulfite and feeds film yeast.",
        do=(
            "Fill the vessel with a mead of its kind, or rack into a smaller one.",
            "Leave a little room below the bung. Full glass can break in a warm spell.",
        ),
        clears_when=f"the free room is {limit * CLEARED:.0f} % of the vessel or less.",
        evidence=held.ids,
        since=held.since,
        look_again=look_in(view, 7),
        action=("rack", ""),
    )
