"""It has lain too long on the thick lees of its ferment.

What it looks for
    A batch never racked since it was pitched: eight weeks after pitching, or four weeks after its readings came to
    rest, a thing to watch; twelve weeks after pitching, a thing for today. While it still ferments it is left alone
    until the twelve weeks are over.

Why it matters
    The dead yeast at the bottom breaks down and gives the drink the smell of broth, rubber or eggs.

What to do
    Rack it off the thick lees into a vessel that it fills, without splashing, and fit an airlock. If it has
    stalled, mend that first: racking takes the yeast away. Fine lees that are stirred on purpose are another
    matter; hush this then.

Source
    Common practice, low to medium confidence: opinions on the weeks differ, low confidence in any single number.
"""

from mustwatch.ledger.events import Pitched
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="long-on-gross-lees",
    severity=Severity.TODAY,
    stages=frozenset({"primary", "lag"}),
    thresholds={
        "weeks": Threshold(8.0, 2.0, 52.0, "weeks", "from pitching, a thing to watch"),
        "rested": Threshold(4.0, 1.0, 26.0, "weeks", "from coming to rest, a thing to watch"),
        "today": Threshold(12.0, 4.0, 104.0, "weeks", "from pitching, a thing for today"),
    },
)
MOVING = ("moving", "sluggish")


def check(view: View) -> Findings:
    """A finding when it was never racked and the weeks are over."""
    pitched = view.batch.pitched
    if pitched is None:
        return
    weeks = words.days(view, pitched.at) / 7
    if weeks < RULE.number(view, "rested"):
        return
    rest = view.verdict.rest
    rested = words.days(view, rest.since) / 7 if view.verdict.at_rest and rest.since else 0.0
    late = weeks >= RULE.number(view, "today")
    moving = view.verdict.state in MOVING
    if late or rested >= RULE.number(view, "rested") or (weeks >= RULE.number(view, "weeks") and not moving):
        severity = Severity.TODAY if late and not moving else Severity.WATCH
        yield _finding(view, pitched, rest.ids if rested else (), severity)


def _finding(view: View, pitched: Pitched, rest_ids: tuple[str, ...], severity: Severity) -> Finding:
    latest = view.batch.latest
    stands = f", and it last read {words.gravity(view, latest.sg)} on {words.date(view, latest.at)}" if latest else ""
    read_first = () if rest_ids else ("Read the gravity first. If it has stalled, mend that before it is racked.",)
    return RULE.found(
        view,
        severity,
        f"On its first lees for {words.age(view, pitched.at)}: {words.began(view)}"
        f" {words.date(view, pitched.at)}, no racking recorded{stands}.",
        do=(
            *read_first,
            "Rack it quietly off the thick lees into a vessel that it fills.",
            "Fit an airlock on the new vessel.",
        ),
        clears_when="it is racked, and that is recorded.",
        evidence=(pitched.id, *rest_ids),
        since=pitched.at,
        missing=() if latest else ("a gravity reading, so nobody knows whether it has come to rest",),
        look_again=look_in(view, 7),
        action=("rack", ""),
    )
