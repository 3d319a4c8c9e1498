"""A gravity, a date or an amount was written down that cannot be.

What it looks for
    A specific gravity below 0.980 or above 1.180, a number between 2 and 40 (Brix, or the scale of potential
    alcohol?), a number near 1000 (a lost point?), or a fall faster than 40 points a day that no later reading bears
    out. The reading is shown and left out of every judgement until it is answered; it is never changed silently.
    And an entry that was written down already and dated more than an hour ahead: it counts for nothing until then,
    and the closure is not known where it may have told of it. Readings dated before the day of the mixing. Bottles
    that hold more than a tenth more than there was to fill them. Honey and water that make another volume than the
    one stated, by more than 8 %, where fruit and juice are not in it. An end as drunk or given with bottles left.
    What was asked about at entry, and answered, is not asked again.

Why it matters
    One wrong number poisons the alcohol, the expected end and the word on whether it is safe to bottle. A tight cap
    dated into next year is on the vessel today, and no rule knows of it. Doses, gas and strength are all reckoned
    by the volume. Bottles of a batch that is called drunk are watched by nobody.

What to do
    Correct the entry to what was meant, or take it back and read again.

Source
    Hobby logs reach 27 points a day, medium confidence; honest strong musts lie below 1.180, common practice,
    medium confidence. What honey and water make: mass balance with published densities, high confidence. A tenth and
    8 % for the marks on jugs and the fill of bottles: common practice, medium confidence.
"""

from mustwatch.cellar.batch import Reading
from mustwatch.judgement.amounts import overfilled, unfit_volume
from mustwatch.ledger.events import Ended, Read
from mustwatch.ledger.visible import counted
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, View, words

RULE = Rule(name="impossible-number", severity=Severity.TODAY, stages=LIVING_STAGES | {"planned", "ended"})
FORGOTTEN_DAYS = 14.0


def check(view: View) -> Findings:
    """Findings for the newest reading, the dates and the amounts that cannot be true."""
    if view.batch.stage == "ended":
        yield from _ended_with_bottles(view)
        return
    yield from _before_mixing(view)
    yield from _volume_unfit(view)
    yield from _overfilled(view)
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


def _ended_with_bottles(view: View) -> Findings:
    batch = view.batch
    end = next((event for event in reversed(batch.story) if isinstance(event, Ended)), None)
    if end is None or end.sure or end.outcome not in ("drunk", "given"):
        return
    if not batch.on_shelf or batch.bottles_left <= 0:
        return
    bottles = counted(batch.bottles_left, "bottle")
    yield RULE.found(
        view,
        Severity.TODAY,
        f"It was ended as {end.outcome} on {words.date(view, end.at)}, and {bottles} of it were never taken.",
        why="Bottles of an ended batch are watched by no rule, whatever is in them.",
        do=(
            f"If they are {end.outcome} too, record that they were taken.",
            "If some are left, take the end back.",
        ),
        clears_when="the bottles are taken, or the end is corrected.",
        evidence=(end.id, *(event.id for event in batch.on_shelf)),
        since=end.at,
        missing=("what became of the bottles that are left",),
        action=("take", end.outcome),
    )


def _before_mixing(view: View) -> Findings:
    batch = view.batch
    early = [event for event in batch.early if isinstance(event, Read) and event.gravity is not None]
    if not early or batch.mixed is None:
        return
    count = f"{len(early)} readings are" if len(early) > 1 else "A reading is"
    yield RULE.found(
        view,
        Severity.TODAY,
        f"{count} dated before it was mixed on {words.date(view, batch.mixed.at)}, the first on"
        f" {words.date(view, early[0].at)}. Which date is right?",
        why="The course, the pitching and the days of rest are counted by these dates.",
        do=("Correct the date of the mixing, or those of the readings.",),
        clears_when="the dates are corrected.",
        evidence=(batch.mixed.id, *(event.id for event in early[:3])),
        since=early[-1].at,
        missing=("when it was truly mixed",),
        action=("log", ""),
    )


def _volume_unfit(view: View) -> Findings:
    mixed = view.batch.mixed
    made = unfit_volume(mixed.volume_l, mixed.ingredients) if mixed is not None and not mixed.sure else None
    if made is None or mixed is None or mixed.volume_l is None:
        return
    yield RULE.found(
        view,
        Severity.TODAY,
        f"Honey and water as recorded make about {words.litres(made.volume_l)} at {words.gravity(view, made.sg)}, and"
        f" {words.litres(mixed.volume_l)} is recorded.",
        why="Every dose and the gas to come are reckoned by the volume.",
        do=(
            "Look how full the vessel is.",
            f"Correct the volume, such as to {words.litres(made.volume_l)}, or the honey or the water.",
        ),
        clears_when="the mixing is corrected.",
        evidence=(mixed.id,),
        since=mixed.at,
        missing=("which of honey, water and volume is right",),
        action=("log", ""),
    )


def _overfilled(view: View) -> Findings:
    found = overfilled(view.batch.story)
    if found is None:
        return
    yield RULE.found(
        view,
        Severity.TODAY,
        f"The bottles filled by {words.date(view, found.event.at)} hold {words.litres(found.bottled_l)}, and there was"
        f" {words.litres(found.volume_l)} to fill them.",
        why="A lot with a wrong count or size is lost sight of, and priming is reckoned by it.",
        do=("Count the bottles and look at their size.", "Correct the bottling, or the volume before it."),
        clears_when="the bottling or the volume is corrected.",
        evidence=(found.event.id,),
        since=found.event.at,
        missing=("how many bottles there are, of what size",),
        action=("log", ""),
    )


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
