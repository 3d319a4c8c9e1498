"""A gravity or a date was written down that cannot be.

What it looks for
    A specific gravity below 0.980 or above 1.180, a number between 2 and 40 (Brix, or the scale of potential
    alcohol?), a number near 1000 (a lost point?), or a fall faster than 40 points a day that no later reading bears
    out. The reading is shown and left out of every judgement until it is answered; it is never changed silently.
    And an entry that was written down already and dated more than an hour ahead: it counts for nothing until then,
    and the closure is not known where it may have told of it.

Why it matters
    One wrong number poisons the alcohol, the expected end and the word on whether it is safe to bottle. A tight cap
    dated into next year is on the vessel today, and no rule knows of it.

What to do
    Correct the entry to what was meant, or take it back and read again.

Source
    Hobby logs reach 27 points a day, medium confidence; honest strong musts lie below 1.180, common practice,
    medium confidence.
"""

from mustwatch.cellar.batch import Reading
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, View, words

RULE = Rule(name="impossible-number", severity=Severity.TODAY, stages=LIVING_STAGES | {"planned"})
FORGOTTEN_DAYS = 14.0


def check(view: View) -> Findings:
    """A finding for the newest reading that cannot be true, and for what is dated into the future."""
    if view.batch.ahead:
        yield _dated_ahead(view)
    odd = [r for r in view.batch.readings if r.doubt is not None and "refractometer" not in r.doubt]
    if not odd:
        return
    newest = odd[-1]
    answered = any(reading.at > newest.at for reading in view.batch.good_readings)
    if answered and words.days(view, newest.at) > FORGOTTEN_DAYS:
        return
    yield _finding(view, newest, Severity.NOTE if answered else Severity.TODAY)


def _dated_ahead(view: View) -> Finding:
    first = min(view.batch.ahead, key=lambda event: event.at)
    count = len(view.batch.ahead)
    more = f", and {count - 1} more" if count > 1 else ""
    return RULE.found(
        view,
        Severity.TODAY,
        f"An entry ({first.kind.replace('_', ' ')}{more}) is dated {words.moment(view, first.at)}, which is"
        " still to come. Until then no rule knows of it.",
        why="What is on record has happened: a tight cap dated ahead is on the vessel today.",
        do=("Correct the date of the entry, or take it back.", "See that the clock of this computer is right."),
        clears_when="the date is corrected.",
        evidence=[event.id for event in view.batch.ahead],
        missing=("when it truly happened",),
    )


def _finding(view: View, reading: Reading, severity: Severity) -> Finding:
    fast = "fell" in (reading.doubt or "")
    fault = f"cannot be true: it {reading.doubt}" if fast else "cannot be the gravity of a must"
    return RULE.found(
        view,
        severity,
        f"The reading of {words.observed(reading.value, reading.scale)} on {words.date(view, reading.at)} {fault}."
        " It is left out of every judgement.",
        why="One wrong number poisons the alcohol, the expected end and the word on when it is safe to bottle.",
        do=(*_meanings(view, reading), "If it was misread, take it back and read again."),
        clears_when="the entry is corrected or taken back.",
        evidence=(reading.id,),
        since=reading.at,
        missing=("which scale was read",) if _meanings(view, reading) else (),
        action=("log", ""),
    )


def _meanings(view: View, reading: Reading) -> tuple[str, ...]:
    """What the number may have meant, each as a question; nothing is converted silently."""
    if reading.scale != "sg":
        return ()
    if 900 <= reading.value <= 1200:
        return (f"Was {words.gravity(view, reading.value / 1000)} meant? Then correct the entry.",)
    if 2 <= reading.value <= 40:
        from mustwatch.trade.gravity import sg_from_brix

        return (
            f"Was it Brix? Then it is {words.gravity(view, sg_from_brix(reading.value))}."
            " Was it the scale of potential alcohol? Then read the other scale.",
        )
    return ()
