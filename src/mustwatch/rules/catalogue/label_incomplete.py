"""Bottles are ready to be given away, and the label should say more.

What it looks for
    A batch bottled within two weeks, or of which a bottle was given away within two weeks, and no note that it was
    labelled. It says what belongs on it: sulfites from 10 mg/L of added SO2, what was fined with egg, milk or fish,
    nuts, and, for honey, the words about infants. It is silent where nothing but honey is in it, until a bottle is
    given away.

Why it matters
    Sulfites and traces of egg, milk, fish or nuts make some people ill. Honey, raw or cooked, is not for infants
    under twelve months. A bottle forgets what you know.

What to do
    Write a label, and note that it is labelled. Bottles that are sold are another matter: that needs a licence, and
    its law says what the label must carry.

Source
    10 mg/L: 21 CFR 130.9 and EU rules on allergens, high confidence. Infants: INSPQ, high confidence. Yeast alone
    can make more than 10 mg/L of SO2: common practice, medium confidence.
"""

import re
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.doses import sulfites, total
from mustwatch.ledger.events import Took
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, words
from mustwatch.said.figures import listed

RULE = Rule(
    name="label-incomplete",
    severity=Severity.NOTE,
    stages=frozenset({"bottled"}),
    thresholds={"so2": Threshold(10.0, 0.0, 50.0, "mg/L", "of added SO2 from which the label names it")},
)
TOLD = timedelta(days=14)
LABELLED = re.compile(r"\blabel\w*\b", re.I)
ALLERGENS = (
    ("egg", re.compile(r"\b(eggs?|albumin\w*|egg white)\b", re.I)),
    ("milk", re.compile(r"\b(milk|casein\w*|lactose|cream)\b", re.I)),
    ("fish", re.compile(r"\b(fish|isinglass)\b", re.I)),
    ("shellfish", re.compile(r"\b(shellfish|chitosan|crab|shrimp)\b", re.I)),
    ("nuts", re.compile(r"\b(nuts?|almonds?|hazelnuts?|walnuts?|pecans?|cashews?|peanuts?)\b", re.I)),
    ("pollen", re.compile(r"\bpollen\b", re.I)),
)


def check(view: View) -> Findings:
    """A finding about the label of a lot newly bottled or given away."""
    batch = view.batch
    given = [event for event in batch.story if isinstance(event, Took) and event.why == "given"]
    bottled = batch.bottlings[-1]
    first = given[0] if given and (view.now - given[0].at) < TOLD else None
    if first is None and view.now - bottled.at >= TOLD:
        return
    contents = _contents(view)
    if not contents and (first is None or not _has_honey(batch)):
        return
    if not _labelled(batch, bottled.at):
        yield _finding(view, contents, first)


def _contents(view: View) -> list[str]:
    """What must be named: sulfites and allergens."""
    doses = sulfites(view.batch)
    found = ["sulfites"] if total(doses) >= RULE.number(view, "so2") or words.unknown_doses(view, doses) else []
    names = [event.what for event in view.batch.additions]
    names += [part.what for part in view.batch.mixed.ingredients] if view.batch.mixed else []
    return found + [word for word, pattern in ALLERGENS if any(says(name, pattern) for name in names)]


def _has_honey(batch: Batch) -> bool:
    categories = [part.category for part in batch.mixed.ingredients] if batch.mixed else []
    return "honey" in categories or any(event.category == "honey" for event in batch.additions)


def _labelled(batch: Batch, since: datetime) -> bool:
    return any(event.note and event.at >= since and says(event.note, LABELLED) for event in batch.story)


def _finding(view: View, contents: list[str], given: Took | None) -> Finding:
    honey = _has_honey(view.batch) or view.batch.mixed is None
    parts = [f'"contains {listed(contents)}"'] if contents else []
    parts += ['"made with honey, not for infants under 12 months"'] if honey else []
    bottled = view.batch.bottlings[-1]
    what = f"Bottled on {words.date(view, bottled.at)}"
    if given is not None:
        what += f" and given away from {words.date(view, given.at)} on"
    return RULE.found(
        view,
        Severity.NOTE,
        f"{what}, and no label is noted.",
        why="Some people fall ill from traces of these, and a bottle given away forgets what you know.",
        do=(
            f"Write on the label: {' and '.join(parts)}, with name, date and strength.",
            'Note it, such as "labelled". Local law says what a label must carry; selling needs a licence.',
        ),
        clears_when="a note says it is labelled, or two weeks have passed.",
        evidence=(bottled.id, given.id if given else None),
        since=bottled.at,
        missing=words.unknown_doses(view, sulfites(view.batch)),
        action=("note", "labelled"),
    )
