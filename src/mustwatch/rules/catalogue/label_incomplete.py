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
    10 mg/L: 27 CFR 4.32(e) for wine in the US, mead of 7 % vol and more among it; 21 CFR 130.9 for other food; and
    EU rules on allergens (Regulation (EU) 1169/2011, annex II, from memory): high confidence. Infants: INSPQ, high
    confidence. Yeast alone can make more than 10 mg/L of SO2: common practice, medium confidence.
"""

import re
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.doses import sulfites
from mustwatch.ledger.events import Took
from mustwatch.rules.evidence.contents import INFANTS, LABELLED_MG_L, Contents, contents_of
from mustwatch.rules.evidence.sightings import says
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, words
from mustwatch.said.figures import listed

RULE = Rule(
    name="label-incomplete",
    severity=Severity.NOTE,
    stages=frozenset({"bottled"}),
    thresholds={"so2": Threshold(LABELLED_MG_L, 0.0, 50.0, "mg/L", "of added SO2 from which the label names it")},
)
TOLD = timedelta(days=14)
LABELLED = re.compile(r"\blabel\w*\b", re.I)


def check(view: View) -> Findings:
    """A finding about the label of a lot newly bottled or given away."""
    batch = view.batch
    given = [event for event in batch.story if isinstance(event, Took) and event.why == "given"]
    bottled = batch.bottlings[-1]
    first = given[0] if given and (view.now - given[0].at) < TOLD else None
    if first is None and view.now - bottled.at >= TOLD:
        return
    contents = contents_of(batch, RULE.number(view, "so2"))
    if not contents.named and (first is None or not contents.honey):
        return
    if not _labelled(batch, bottled.at):
        yield _finding(view, contents, first)


def _labelled(batch: Batch, since: datetime) -> bool:
    return any(event.note and event.at >= since and says(event.note, LABELLED) for event in batch.story)


def _finding(view: View, contents: Contents, given: Took | None) -> Finding:
    parts = [f'"contains {listed(contents.named)}"'] if contents.named else []
    parts += [f'"{INFANTS}"'] if contents.honey else []
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
            *(f"Write on the label: {part}." for part in parts),
            "Write its name, date and strength beside that.",
            'Then note it, such as "labelled". Local law says what a label must carry.',
        ),
        clears_when="a note says it is labelled, or two weeks have passed.",
        evidence=(bottled.id, given.id if given else None),
        since=bottled.at,
        missing=words.unknown_doses(view, sulfites(view.batch)),
        action=("note", "labelled"),
    )
