"""The sulfite is high.

What it looks for
    All doses together above 200 mg/L of SO2, and worse above 350; or free SO2 measured above 50 mg/L where the pH
    does not ask for so much. A dose without its mass or volume is counted as not known, named, and noted. The total
    in the drink is more than what was added: yeast makes some 10 to 30 mg/L of its own.

Why it matters
    Above 50 mg/L free the nose stings and taste suffers. The law limits the total by the kind of drink, and mead is
    not wine: 200 mg/L for mead in the EU, whether dry or sweet; 350 in the US, where mead counts as wine. Grape
    wine has limits of its own. Some people with asthma react to far less.

What to do
    Add no more. Weigh in future. Let it age, or blend it with a batch that has none, and measure again. Do not
    treat it with hydrogen peroxide or the like at home. Local law and licensed practice decide.

Source
    Mead: Regulation (EC) 1333/2008, annex II as set by 1129/2011, category 14.2.5, from memory, medium confidence.
    Grape wine: Regulation (EU) 2019/934, annex I B, high confidence. US: 27 CFR 4.22(b)(1), high confidence. What
    yeast makes: winemaking textbooks, from memory, medium confidence. 50 mg/L free: common practice, medium
    confidence. Laws change: look up your own.
"""

from mustwatch.judgement.doses import Dose, sulfites, total
from mustwatch.rules.evidence.latch import Sample, held_above
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="sulfite-high",
    severity=Severity.TODAY,
    stages=LIVING_STAGES,
    thresholds={
        "dry": Threshold(200.0, 50.0, 350.0, "mg/L", "of SO2 in all, for a dry batch"),
        "sweet": Threshold(200.0, 50.0, 400.0, "mg/L", "of SO2 in all, for a sweet one; EU grape wine: 250"),
        "most": Threshold(350.0, 100.0, 500.0, "mg/L", "of SO2 in all, the highest limit known here"),
        "free": Threshold(50.0, 30.0, 100.0, "mg/L", "of measured free SO2 that the nose finds"),
    },
)
SWEET_SG = 1.002  # about 5 g/L of sugar, where the EU's limit for grape wine rises
FREE_NOISE = 5.0  # mg/L; a test at home is no finer


def check(view: View) -> Findings:
    """A finding when the sulfite in all, or the free part of it, is high."""
    doses = sulfites(view.batch)
    if doses and (given := total(doses)) > (limit := _limit(view)):
        yield _total(view, given, limit)
        return
    if missing := words.unknown_doses(view, doses):
        yield _unknown(view, doses, given, missing)
    free = [Sample(m.at, m.value, m.id) for m in view.batch.measures if m.what == "free_so2_mg_l"]
    if not free:
        return
    limit = max(RULE.number(view, "free"), _asked(view))
    held = held_above(free, limit, limit - FREE_NOISE)
    if held is not None:
        yield _free(view, held.last, held.ids)


def _unknown(view: View, doses: list[Dose], given: float, missing: tuple[str, ...]) -> Finding:
    known = f"{given:.0f} mg/L of SO2 are known of" if given else "nothing of it is known"
    return RULE.found(
        view,
        Severity.NOTE,
        f"How much sulfite it holds in all cannot be reckoned; {known}.",
        why="What was not weighed may be beyond the legal end, and some people with asthma react to far less.",
        do=("Write down mass and volume, or measure it. Until then add none and give none away.",),
        clears_when="the masses of the doses and the volume they went into are recorded.",
        evidence=[dose.event.id for dose in doses],
        since=doses[-1].event.at,
        missing=(RULE.cannot_judge("how much sulfite it holds", "one above the limit"), *missing),
        look_again=look_in(view, 30),
    )


def _limit(view: View) -> float:
    latest = view.batch.latest
    # The stricter one until it is known to be sweet.
    return RULE.number(view, "sweet" if latest is not None and latest.sg > SWEET_SG else "dry")


def _asked(view: View) -> float:
    from mustwatch.trade.sulfite import free_so2_needed

    ph = view.batch.latest_measure("ph")
    return 0.0 if ph is None else min(100.0, free_so2_needed(min(5.0, max(2.5, ph.value))) + FREE_NOISE)


def _total(view: View, given: float, limit: float) -> Finding:
    doses = sulfites(view.batch)
    return RULE.found(
        view,
        Severity.TODAY if given > RULE.number(view, "most") else Severity.WATCH,
        f"The sulfite added comes to {given:.0f} mg/L of SO2 by {words.date(view, doses[-1].event.at)},"
        f" above {limit:.0f} mg/L. The total is more: yeast makes some of its own.",
        why="That is beyond the legal end for mead in the EU or for wine in many countries. Some people with asthma"
        " react to far less.",
        do=(
            "Add no more. Check the scales and the volume. Correct the entry if it was mistyped.",
            "Blend it with a batch that has none. Local law decides whether it may be given away.",
        ),
        clears_when="the entries are corrected, or it is blended down.",
        evidence=[dose.event.id for dose in doses],
        since=doses[-1].event.at,
        missing=words.unknown_doses(view, doses),
        look_again=look_in(view, 7),
    )


def _free(view: View, last: Sample, evidence: tuple[str, ...]) -> Finding:
    return RULE.found(
        view,
        Severity.WATCH,
        f"Free SO2 was measured at {last.value:.0f} mg/L on {words.date(view, last.at)}.",
        why="Above about 50 mg/L the nose finds it. It goes down by itself with time.",
        do=("Add no more, let it rest, and measure again before bottling.",),
        clears_when="free SO2 is measured lower.",
        evidence=evidence,
        since=last.at,
        missing=words.unknown_doses(view, sulfites(view.batch)),
        look_again=look_in(view, 30),
        action=("log", "so2"),
    )
