"""Nobody wrote down what closes the vessel.

What it looks for
    A batch in a vessel whose closure was never recorded, or not since it was mixed or racked into another vessel. A
    look at its airlock counts as a record. A must without yeast is given a day.

Why it matters
    A loosened cap looks exactly like a tight one, and a tight one on a live ferment is glass under pressure. This
    is the most dangerous gap in the notes of a cellar; it is never filled with a guess.

What to do
    Go and look. If it is closed tight, open it slowly with eyes and hands covered. Write down what is on it.

Source
    Common practice; jugs have burst under lids said to be loose, high confidence.
"""

from datetime import timedelta

from mustwatch.rules.rule import Findings, Rule, Severity, View, words

RULE = Rule(name="closure-not-recorded", severity=Severity.TODAY)


def check(view: View) -> Findings:
    """A finding when the closure of the vessel it now lies in is not on record."""
    batch = view.batch
    closing = batch.closing
    if closing.kind is not None:
        return
    since = batch.vessel_since or batch.started
    pitched = batch.pitched is not None
    if not pitched and (since is None or view.now - since < timedelta(days=1)):
        return
    because = (closing.why_unknown or "never recorded").removesuffix(".")
    evidence = closing.evidence or (batch.pitched.id if batch.pitched else None)
    missing = [RULE.cannot_judge("kind of closure", "one that lets no gas out")]
    if batch.pitching_assumed:
        missing.append(RULE.cannot_judge("a pitching", f"at work: {batch.pitching_assumed}"))
    yield RULE.found(
        view,
        Severity.TODAY if pitched else Severity.WATCH,
        f"What closes this vessel is not known: {because}" + (f" ({words.date(view, since)})." if since else "."),
        why="A loosened cap looks like a tight one, and a tight one on a live ferment is glass under pressure.",
        do=(
            "Go and look today.",
            "If it is closed tight, cover your face and hands. Open it slowly, pointed away from people.",
            "Fit an airlock if it was tight. Then record what is on it.",
        ),
        clears_when="somebody has looked, and what closes it is recorded.",
        evidence=(evidence,),
        since=since,
        missing=tuple(missing),
        look_again=view.now + timedelta(days=1),
        action=("close", ""),
    )
