"""A vessel is sealed before its contents are proven to be at rest.

What it looks for
    A solid bung, a tight cap or any other closed top on a pitched batch that
    has not shown, by readings at least seven days apart, that it is at rest
    and dry; or fourteen days apart and stabilised, if it is sweet, strong or
    was pitched twice, or is cold, or its start is not known. Sugar, honey or
    fruit added since then takes the proof away, and so does yeast; a dose far
    too small for the volume is none. A must closed for two days without any
    yeast is asked about too, and after four it counts as live. A keg counts as
    sealed unless its rating is recorded and holds.

Why it matters
    Each gravity point still to go makes half a volume of gas, and a jug or
    carboy is rated for no pressure at all. Glass bursts without warning.
    Cold hides the gas and does not stop it.

What to do
    Cover the vessel with a thick towel, protect eyes and hands, and open it
    slowly, pointed away from people. Fit an airlock with liquid. Read the
    gravity. Seal again only when readings two weeks apart agree and it is dry
    or stabilised. Do not lift or shake a sealed vessel that may be working.

Source
    The gas from a gravity point: chemistry, high confidence. Seven and
    fourteen days: common practice, and a simulation of reading noise, medium
    confidence. That jugs have no rating: makers' statements, high confidence.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from mustwatch.cellar.batch import Batch, Closing, Reading
from mustwatch.cellar.unrecorded import LONGEST_WAIT
from mustwatch.judgement.ending import ending_of
from mustwatch.judgement.facts import (
    DRY_SG,
    READS_DRY_SG,
    SEALED_CLOSURES,
    days_needed,
    doses_without_amount,
    fed_at,
    good_readings,
    resting,
    stabilised,
    woken_at,
    yeast_at,
)
from mustwatch.judgement.rest import Rest
from mustwatch.ledger.events import Mixed, Racked
from mustwatch.rules import words
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.rule import Rule
from mustwatch.rules.view import View

RULE = Rule(name="sealed-while-alive", severity=Severity.DANGER)

WARMEST_C = 30.0
OPEN_IT = (
    "Cover it with a thick towel, protect eyes and hands, and open it slowly, pointed away from people.",
    "Fit an airlock with liquid in it. Do not lift or shake the vessel before that.",
    "Then read the gravity and write it down.",
)
GAS = (
    "Every gravity point still to go makes half a volume of gas, and jugs and carboys are rated for no pressure:"
    " the glass can burst. Cold hides the gas, it does not stop it."
)


@dataclass(frozen=True, slots=True)
class Seal:
    """A closure that lets no gas out: its kind, since when it is on, and the event that says so."""

    kind: str
    since: datetime
    evidence: str | None


def check(view: View) -> Iterable[Finding]:
    """A finding when a sealed batch is not proven to be at rest."""
    batch, seal = view.batch, _seal_of(view.batch.closing)
    if seal is None or (seal.kind == "keg" and _keg_holds(view)):
        return
    if batch.pitched is None:
        yield from _unpitched(view, seal)
        return
    rest = resting(batch)
    doubts = _doubts(batch, rest)
    if not doubts:
        if rest.suspect is not None:
            yield _asked_again(view, seal, rest, rest.suspect)
        return
    only_unstabilised = doubts == ("it is sweet, and no sulfite with sorbate is recorded",)
    severity = Severity.TODAY if only_unstabilised and _at_its_end(view) else Severity.DANGER
    yield _finding(view, seal, rest, doubts, severity)


def _seal_of(closing: Closing) -> Seal | None:
    if closing.kind is None or closing.since is None or closing.kind not in SEALED_CLOSURES:
        return None
    return Seal(closing.kind, closing.since, closing.evidence)


def _doubts(batch: Batch, rest: Rest) -> tuple[str, ...]:
    """What speaks against sealing, in words; nothing when it is proven to be at rest and dry or stabilised."""
    if not rest.readings:
        return (_woken(batch),) if good_readings(batch) else ("no gravity is recorded",)
    last = rest.readings[-1]
    guarded = stabilised(batch) is not None
    needed = days_needed(batch, last)
    doubts = []
    if rest.days < needed:
        doubts.append(_too_short(rest, needed))
    if not _dry(rest) and not guarded:
        doubts.append("it is sweet, and no sulfite with sorbate is recorded")
    return tuple(doubts)


def _woken(batch: Batch) -> str:
    woken, fed = woken_at(batch), fed_at(batch)
    if fed is not None and fed == woken:
        return "sugar was added since the last reading"
    return f"it was not read since {'yeast went in' if yeast_at(batch) == woken else 'it was mixed again'}"


def _keg_holds(view: View) -> bool:
    """Whether a keg's stated rating holds all the gas that the sugar left could make, at 30 °C."""
    latest = view.batch.latest
    vessel = next((e.vessel for e in reversed(view.batch.story) if isinstance(e, Mixed | Racked)), None)
    if latest is None or _woken_by(view) or vessel is None or not vessel.rating_bar:
        return False
    from mustwatch.trade.carbonation import VOLUMES_PER_POINT
    from mustwatch.trade.pressure import gauge_bar

    left = max(0.0, (latest.sg - ending_of(view.batch).dry_low) * 1000)
    return gauge_bar(min(100.0, 1.0 + VOLUMES_PER_POINT * left), WARMEST_C) <= vessel.rating_bar


def _dry(rest: Rest) -> bool:
    # What once proved dry stays so while the readings stay within their noise of it.
    return (rest.sg or 1.0) <= READS_DRY_SG


def _too_short(rest: Rest, needed: float) -> str:
    if len(rest.readings) < 2:
        return "no two readings agree yet"
    return f"readings agree for {words.span(rest.days)} only, {needed:.0f} days are needed"


def _at_its_end(view: View) -> bool:
    ending, latest = ending_of(view.batch), view.batch.latest
    # Of a yeast whose tolerance is not known only the highest tells that it has reached it.
    end = ending.high if ending.tolerance_stated else ending.stop
    return end is not None and latest is not None and latest.sg <= end + 0.001


def _finding(view: View, seal: Seal, rest: Rest, doubts: tuple[str, ...], severity: Severity) -> Finding:
    batch = view.batch
    last = batch.latest
    stands = f" It last read {words.gravity(view, last.sg)} on {words.date(view, last.at)}." if last else ""
    missing = doses_without_amount(batch)
    if last is None:
        missing = (RULE.cannot_judge("a gravity reading", "a live ferment under pressure"), *missing)
    elif view.verdict.expected_end is None and last.sg > DRY_SG:
        missing = (RULE.cannot_judge("the expected end", "one that can still ferment"), *missing)
    if batch.whole_start_sg is None and last is not None and rest.days < days_needed(batch, last):
        missing = (RULE.cannot_judge("the start gravity", "a strong one that needs two weeks"), *missing)
    if batch.pitching_assumed:
        missing = (RULE.cannot_judge("a pitching", f"at work: {batch.pitching_assumed}"), *missing)
    sealed = f"Sealed with a {seal.kind.replace('-', ' ')} since {words.date(view, seal.since)}"
    return RULE.found(
        view,
        severity,
        f"{sealed}, and not proven to be at rest: {'; '.join(doubts)}.{stands}"
        if severity is Severity.DANGER
        else f"{sealed}, steady and sweet, and no sulfite with sorbate is recorded.{stands}",
        why=GAS
        if severity is Severity.DANGER
        else "Yeast at the end of its strength can start again in warmth."
        " A vessel under an airlock has nowhere to build pressure.",
        do=OPEN_IT
        if severity is Severity.DANGER
        else ("Fit an airlock in place of the closure, or stabilise it with sulfite and sorbate.",),
        clears_when="an airlock is recorded, or it is dry and steady for a week, or stabilised and steady for two.",
        evidence=(*rest.ids, last.id if last else None, _woken_by(view), seal.evidence),
        since=seal.since,
        missing=missing,
        look_again=view.now + timedelta(days=1),
        action=("close", "airlock"),
    )


def _woken_by(view: View) -> str | None:
    """Id of what took the proof of rest away, sugar, yeast or another must, if there was one since."""
    woken = woken_at(view.batch)
    latest = view.batch.latest
    if woken is None or (latest is not None and latest.at > woken):
        return None
    kinds = ("added", "pitched", "mixed")
    return next((event.id for event in reversed(view.batch.story) if event.at == woken and event.kind in kinds), None)


def _asked_again(view: View, seal: Seal, rest: Rest, low: Reading) -> Finding:
    return RULE.found(
        view,
        Severity.WATCH,
        f"Sealed since {words.date(view, seal.since)} and proven to be at rest at"
        f" {words.gravity(view, rest.sg or 1.0)}, but it last read {words.gravity(view, low.sg)} on"
        f" {words.date(view, low.at)}.",
        why="One reading may be wrong; two so low would mean that it ferments again, with nowhere for the gas to go.",
        do=("Read it again today, a flat sample with its temperature.", "Until then put an airlock on."),
        clears_when="another reading agrees with the ones before.",
        evidence=(*rest.ids, low.id, seal.evidence),
        since=low.at,
        look_again=view.now + timedelta(days=1),
        action=("log", ""),
    )


def _unpitched(view: View, seal: Seal) -> Iterable[Finding]:
    if view.now - seal.since < timedelta(days=2):
        return
    long = view.now - seal.since >= LONGEST_WAIT
    yield RULE.found(
        view,
        Severity.DANGER if long else Severity.TODAY,
        f"A must without yeast on record stands sealed with a {seal.kind.replace('-', ' ')} since"
        f" {words.date(view, seal.since)}.",
        why="A must rarely waits: wild yeast can start it, and a closed jug is rated for no pressure.",
        do=OPEN_IT
        if long
        else ("Open it slowly and fit an airlock or a cloth.", "Pitch it, or keep it cold and short."),
        clears_when="a vented closure is recorded.",
        evidence=(seal.evidence,),
        since=seal.since,
        missing=(RULE.cannot_judge("a pitching", "at work"),),
        look_again=view.now + timedelta(days=1),
        action=("close", "airlock"),
    )
