"""The sorbate on record is too little to hold, or above a legal limit.

What it looks for
    All doses of sorbate over the volume they went into: less than nine tenths of what the alcohol, at its low
    estimate, and the higher of the last two pH of the wine ask for, or more than 268 mg/L of potassium sorbate,
    which is 200 mg/L of sorbic acid. Below 10 % vol or above pH 3.5 no dose can be relied on, and that is said.
    Without alcohol or pH the most that the table asks for is taken, and the missing fact is noted. It is said of
    bottles too; a dose that cannot be reckoned is noted.

Why it matters
    Too little lets a sweet batch start again in the bottle; too much is tasted by many and is against the law of
    many countries for wine sold.

What to do
    Too little: make the dose up with the bench, with sulfite beside it. Too much: do not add more; blend it with a
    batch that has none. Local law and licensed practice decide.

Source
    Dose by alcohol and pH: Underhill, Making Better Wines, medium confidence. 200 mg/L sorbic acid: OIV code, file
    II.3.4.5, high confidence. The salt is 74.6 % acid: stoichiometry.
"""

from mustwatch.cellar.rest import READS_DRY_SG
from mustwatch.judgement.doses import Dose, sorbates, total
from mustwatch.judgement.protected import sorbate_shortfall
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="sorbate-dose-off",
    severity=Severity.WATCH,
    stages=LIVING_STAGES,
    thresholds={
        "limit": Threshold(268.0, 100.0, 500.0, "mg/L", "of potassium sorbate, the legal limit to keep to"),
    },
)

BOTTLED = (
    "Keep the bottles cold and covered, where nobody passes.",
    "Open one cold over the sink, face and hands covered. Read its gravity when flat.",
)


def check(view: View) -> Findings:
    """A finding when the sorbate given does not fit."""
    doses = sorbates(view.batch)
    if not doses:
        return
    proof = view.verdict.proof
    given = total(doses)
    if given > RULE.number(view, "limit"):
        yield _too_much(view, doses, given)
    elif proof.sg is not None and proof.sg > READS_DRY_SG:
        short, missing = sorbate_shortfall(view.batch, proof.sg)
        if short:
            yield _weak(view, doses, short, (*words.unknown_doses(view, doses), *missing))
        elif missing:
            yield _unsure(view, doses, missing)
    elif missing := words.unknown_doses(view, doses):
        yield _unknown(view, doses, missing)


def _unsure(view: View, doses: list[Dose], missing: tuple[str, ...]) -> Finding:
    return RULE.found(
        view,
        Severity.NOTE,
        "Whether its sorbate holds cannot be told for sure.",
        why="The weaker and the less sour the drink, the more sorbate it takes; above pH 3.5 no dose will do.",
        do=("Measure the pH with a meter and write it down, such as pH3.4.",),
        clears_when="the missing facts are recorded, or it reads dry.",
        evidence=[dose.event.id for dose in doses],
        since=doses[-1].event.at,
        missing=missing,
        look_again=look_in(view, 30),
        action=("log", "pH"),
    )


def _unknown(view: View, doses: list[Dose], missing: tuple[str, ...]) -> Finding:
    return RULE.found(
        view,
        Severity.NOTE,
        "How much sorbate it holds in all cannot be reckoned.",
        why="What was not weighed may be beyond what the law of many countries allows.",
        do=("Write down mass and volume before you add more or give any of it away.",),
        clears_when="the masses of the doses and the volume they went into are recorded.",
        evidence=[dose.event.id for dose in doses],
        since=doses[-1].event.at,
        missing=(RULE.cannot_judge("how much sorbate it holds", "one above the limit"), *missing),
        look_again=look_in(view, 30),
    )


def _weak(view: View, doses: list[Dose], what: str, missing: tuple[str, ...]) -> Finding:
    in_bottles = view.batch.stage_in_vessel is None
    return RULE.found(
        view,
        Severity.WATCH,
        f"Sorbate was given that does not hold: {what}.",
        why="Too weak a dose lets a sweet batch start again in the bottle, where gas has nowhere to go.",
        do=BOTTLED
        if in_bottles
        else (
            "Keep it under an airlock.",
            "Make the dose up as the bench reckons it, with sulfite. Or keep it cold.",
            "Keep to local law and to the label.",
        ),
        clears_when="the doses on record suffice, or the batch reads dry.",
        evidence=[dose.event.id for dose in doses],
        since=doses[-1].event.at,
        missing=missing,
        look_again=look_in(view, 7),
        action=None if in_bottles else ("add", "sorbate"),
    )


def _too_much(view: View, doses: list[Dose], given: float) -> Finding:
    return RULE.found(
        view,
        Severity.WATCH,
        f"Sorbate comes to {given:.0f} mg/L by {words.date(view, doses[-1].event.at)},"
        f" above {RULE.number(view, 'limit'):.0f} mg/L.",
        why="Many taste it from 135 mg/L on, and the law of many countries ends at 200 to 300 mg/L of sorbic acid.",
        do=(
            "Add no more. Check the scales and the volume, and correct the entry if it was mistyped.",
            "Blend it with a batch that has none. Local law and licensed practice decide.",
        ),
        clears_when="the entries are corrected, or it is blended down.",
        evidence=[dose.event.id for dose in doses],
        since=doses[-1].event.at,
        missing=words.unknown_doses(view, doses),
        look_again=look_in(view, 7),
    )
