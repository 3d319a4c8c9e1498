"""Copper was put in.

What it looks for
    An addition with copper in its name, or a note that tells of copper wire, pipe, coins or copper sulfate in the
    batch. The colour of copper does not count. After sixty days it is a thing to watch, until the batch is ended.

Why it matters
    What takes the egg smell away is 0.05 to 0.5 mg in a litre, dosed by pipette from a made-up stock. A wire or a
    pinch of sulfate can give many times that, and copper is poisonous. It cannot be measured in a kitchen, and
    sulfite and a low pH dissolve more of it.

What to do
    Take metal out. Do not drink it until a wine laboratory has measured the copper; if that cannot be had, discard
    it. The limits are a matter of local law and of licensed practice.

Source
    Trial range by pipette: Iowa State University Extension, high confidence. Legal limits differ between countries
    and years and are not given here.
"""

import re

from mustwatch.ledger.events import Event
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import LIVING_STAGES, Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="copper-added", severity=Severity.TODAY, stages=LIVING_STAGES)

COPPER = re.compile(r"\b(copper|cupric)\b(?!.{0,3}colou?r)", re.I)
TOLD = re.compile(
    r"\b(?:copper|cupric)\s+(?:\w+\s+)?(?:wire|pipe|tube|coins?|penny|pennies|mesh|sul\w+|solution|foil)\b"
    r"|\b(?:added|put in|dropped|stirred with|used)\b.{0,20}\bcopper\b(?!.{0,3}colou?r)",
    re.I,
)
TOLD_DAYS = 60.0


def check(view: View) -> Findings:
    """A finding when copper went in."""
    batch = view.batch
    events: list[Event] = [added for added in batch.additions if says(added.what, COPPER)]
    events = events or [event for event in batch.story if (note := event.note) and says(note, TOLD)]
    if not events:
        return
    event = events[-1]
    yield RULE.found(
        view,
        Severity.TODAY if words.days(view, event.at) <= TOLD_DAYS else Severity.WATCH,
        f"Copper went in on {words.date(view, event.at)}, says the record.",
        why="Copper is poisonous, and the dose that helps is a fraction of a milligram in a litre."
        " It cannot be measured in a kitchen, and a low pH dissolves more of it from metal.",
        do=(
            "Take any metal out, and add no more.",
            "Do not drink it before a wine laboratory has measured the copper; else discard it. Local law sets limits.",
        ),
        clears_when="the batch is ended, or the entry is taken back or corrected.",
        evidence=[event.id for event in events],
        since=event.at,
        missing=("how much copper is in it: only a laboratory can tell",),
        look_again=look_in(view, 7),
    )
