"""A vessel is sealed before its contents are proven to be at rest.

What it looks for
    A solid bung, a tight cap or any other closed top on a pitched batch that has not shown, by readings at least
    seven days apart, that it is at rest, and that is not dry or stabilised. Fourteen days are asked for if it is
    sweet, began above 1.110 or may hold more than 14 % of alcohol, is cold, was pitched twice or has stalled, or if
    its start is not known. Sugar, honey or fruit added since then takes the proof away; so do yeast and water,
    unless it read dry before. A dose too small for volume, alcohol and pH is none. A must closed for two days
    without any yeast is asked about too, and after four it counts as live. A keg counts as sealed unless its rating
    is recorded and holds.

Why it matters
    Each gravity point still to go makes half a volume of gas, and a jug or carboy is rated for no pressure at all.
    Glass bursts without warning. Cold hides the gas and does not stop it.

What to do
    Cover the vessel with a thick towel, protect eyes and hands, and open it slowly, pointed away from people. Fit
    an airlock with liquid. Read the gravity. Seal again only when readings two weeks apart agree and it is dry or
    stabilised. Do not lift or shake a sealed vessel that may be working.

Source
    The gas from a gravity point: chemistry, high confidence. Seven and fourteen days: common practice, and a
    simulation of reading noise, medium confidence. That jugs have no rating: makers' statements, high confidence.
"""

from datetime import timedelta

from mustwatch.cellar.batch import Batch, Closing, Reading
from mustwatch.cellar.ending import ending_of
from mustwatch.cellar.rest import READS_DRY_SG, fed_at, woken_at, yeast_at
from mustwatch.cellar.unrecorded import LONGEST_WAIT
from mustwatch.judgement.gas import is_borne, vessel_rating_bar
from mustwatch.judgement.proof import Proof
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, View, words

RULE = Rule(name="sealed-while-alive", severity=Severity.DANGER)

OPEN_IT = (
    "Protect your face and hands. Cover the vessel with a thick towel.",
    "Open it slowly, pointed away from people. Do not lift or shake it before that.",
    "Fit an airlock with liquid in it, then record it.",
    "Read the gravity and write it down.",
)
GAS = (
    "Every gravity point still to go makes half a volume of gas, and jugs and carboys are rated for no pressure:"
    " the glass can burst. Cold hides the gas, it does not stop it."
)


def check(view: View) -> Findings:
    """A finding when a sealed batch is not proven to be at rest."""
    batch, proof = view.batch, view.verdict.proof
    if not batch.closing.sealed or (batch.closing.kind == "keg" and _keg_holds(view)):
        return
    if batch.pitched is None:
        yield from _unpitched(view, batch.closing)
        return
    if proof.safe:
        if proof.rest.suspect is not None:
            yield _asked_again(view, proof, proof.rest.suspect)
        return
    latest, ending = batch.latest, ending_of(batch)
    at_its_end = proof.steady and latest is not None and ending.done is not None and ending.reached(latest.sg)
    yield _finding(view, proof, Severity.TODAY if at_its_end else Severity.DANGER)


def _doubts(batch: Batch, proof: Proof) -> str:
    """What speaks against sealing, in words."""
    if not proof.rest.readings:
        return _woken(batch) if batch.good_readings else "no gravity is recorded"
    doubts = [] if proof.steady else [_too_short(proof)]
    if not proof.dry and not proof.protection.holds:
        doubts.append(f"it is sweet, and {proof.protection.against}")
    return "; ".join(doubts)


def _woken(batch: Batch) -> str:
    woken, fed = woken_at(batch), fed_at(batch)
    # A float's reading is no proof of rest, and the pane may show one beside these words.
    read = "read with a hydrometer" if batch.latest is not None and batch.latest.floating else "read"
    if fed is not None and fed == woken:
        return "sugar was added since the last reading"
    if yeast_at(batch) == woken:
        return f"it was not {read} since yeast went in"
    if any(event.at == woken for event in batch.poured_back):
        return f"it was not {read} since it was poured back from its bottles"
    again = batch.mixed_on_top is not None and batch.mixed_on_top.at == woken
    return f"it was not {read} since {'it was mixed again' if again else 'water went in'}"


def _keg_holds(view: View) -> bool:
    """Whether a keg's stated rating holds all the gas that the sugar left could make, at 30 °C."""
    batch = view.batch
    return vessel_rating_bar(batch) > 0 and _woken_by(batch) is None and is_borne(batch, view.settings)


def _too_short(proof: Proof) -> str:
    if len(proof.rest.readings) < 2:
        return "no two readings agree yet"
    return f"readings agree for {words.span(proof.rest.days)} only, {words.needed(proof.needed)}"


def _finding(view: View, proof: Proof, severity: Severity) -> Finding:
    batch, seal, rest = view.batch, view.batch.closing, proof.rest
    last = batch.latest
    stands = f" It last read {words.gravity(view, last.sg)} on {words.date(view, last.at)}." if last else ""
    missing = () if proof.dry else (*words.unknown_stabilisers(view), *proof.protection.missing)
    if last is None:
        missing = (RULE.cannot_judge("a gravity reading", "a live ferment under pressure"), *missing)
    elif view.verdict.least_end is None and last.sg > READS_DRY_SG:
        missing = (RULE.cannot_judge("where it should end", "one that can still ferment"), *missing)
    if batch.whole_start_sg is None and last is not None and not proof.steady:
        missing = (RULE.cannot_judge("the start gravity", "a strong one that needs two weeks"), *missing)
    if batch.pitching_assumed:
        missing = (RULE.cannot_judge("a pitching", f"at work: {batch.pitching_assumed}"), *missing)
    sealed = f"Sealed with a {_kind(seal)} since {words.date(view, seal.since or view.now)}"
    return RULE.found(
        view,
        severity,
        f"{sealed}, and not proven to be at rest: {_doubts(batch, proof)}.{stands}"
        if severity is Severity.DANGER
        else f"{sealed}, steady and sweet, and {proof.protection.against}.{stands}",
        why=GAS
        if severity is Severity.DANGER
        else "Yeast at the end of its strength can start again in warmth."
        " A vessel under an airlock has nowhere to build pressure.",
        do=OPEN_IT if severity is Severity.DANGER else ("Fit an airlock in place of the closure, then record it.",),
        clears_when="an airlock is fitted and recorded, or it is dry and steady for a week,"
        " or stabilised and steady for two.",
        evidence=(*rest.ids, last.id if last else None, _woken_by(batch), seal.evidence),
        since=seal.since,
        missing=missing,
        look_again=view.now + timedelta(days=1),
        action=("close", "airlock"),
    )


def _kind(seal: Closing) -> str:
    return (seal.kind or "closure").replace("-", " ")


def _woken_by(batch: Batch) -> str | None:
    """Id of what took the proof of rest away, sugar, yeast or another must, if there was one since."""
    woken, latest = woken_at(batch), batch.latest
    if woken is None or (latest is not None and latest.at > woken):
        return None
    kinds = ("added", "pitched", "mixed", "poured_back")
    return next((event.id for event in reversed(batch.story) if event.at == woken and event.kind in kinds), None)


def _asked_again(view: View, proof: Proof, low: Reading) -> Finding:
    seal, rest = view.batch.closing, proof.rest
    return RULE.found(
        view,
        Severity.WATCH,
        f"Sealed since {words.date(view, seal.since or view.now)} and proven to be at rest at"
        f" {words.gravity(view, rest.sg or 1.0)}, but it last read {words.gravity(view, low.sg)} on"
        f" {words.date(view, low.at)}.",
        why="One reading may be wrong; two so low would mean that it ferments again, with nowhere for the gas to go.",
        do=(
            "Put an airlock on until this is settled.",
            "Read the gravity again today, a flat sample with its temperature.",
        ),
        clears_when="another reading agrees with the ones before.",
        evidence=(*rest.ids, low.id, seal.evidence),
        since=low.at,
        look_again=view.now + timedelta(days=1),
        action=("log", ""),
    )


def _unpitched(view: View, seal: Closing) -> Findings:
    since = seal.since or view.now
    if view.now - since < timedelta(days=2):
        return
    long = view.now - since >= LONGEST_WAIT
    yield RULE.found(
        view,
        Severity.DANGER if long else Severity.TODAY,
        f"A must without yeast on record stands sealed with a {_kind(seal)} since {words.date(view, since)}.",
        why="A must rarely waits: wild yeast can start it, and a closed jug is rated for no pressure.",
        do=OPEN_IT
        if long
        else ("Open it slowly. Fit an airlock or a cloth.", "Pitch the yeast soon, or keep the must cold."),
        clears_when="an airlock or a cloth is fitted and recorded.",
        evidence=(seal.evidence,),
        since=since,
        missing=(RULE.cannot_judge("a pitching", "at work"),),
        look_again=view.now + timedelta(days=1),
        action=("close", "airlock"),
    )
