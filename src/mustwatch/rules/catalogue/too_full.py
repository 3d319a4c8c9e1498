"""The vessel is too full for the foam of the first days.

What it looks for
    Before and in the first week after pitching: less than a tenth of the vessel free, or less than a fifth where
    fruit floats in it, without a blow-off tube.

Why it matters
    Foam and fruit rise into the airlock, plug it, and the vessel is sealed.

What to do
    Take some out into a second vessel, or put on a wide tube that leads into water. Put it back when the foam has
    fallen.

Source
    A tenth and a fifth: common practice; a winemaking handbook asks for a third, medium confidence.
"""

from mustwatch.rules.evidence.vessel import fruit_in_since
from mustwatch.rules.rule import Finding, Findings, Rule, Severity, Threshold, View, look_in, words

RULE = Rule(
    name="too-full",
    severity=Severity.TODAY,
    stages=frozenset({"must", "lag", "primary"}),
    thresholds={
        "plain": Threshold(0.10, 0.0, 0.5, "of the vessel", "free space a plain must needs"),
        "fruit": Threshold(0.20, 0.0, 0.6, "of the vessel", "free space a must with fruit needs"),
        "days": Threshold(7.0, 2.0, 21.0, "days", "from pitching; after that the foam is over"),
    },
)
HAIR = 0.005  # half a per cent: volumes are read to a mark on a jug


def check(view: View) -> Findings:
    """A finding while foam is to be expected and has no room."""
    batch = view.batch
    if batch.closing.kind in ("blow-off", "cloth"):
        return
    if batch.pitched is not None and words.days(view, batch.pitched.at) > RULE.number(view, "days"):
        return
    fruit = fruit_in_since(batch)
    if batch.capacity_l is None or batch.volume_l is None:
        if fruit is not None and batch.pitched is not None:
            yield _unknown(view, fruit[1])
        return
    free = (batch.capacity_l - batch.volume_l) / batch.capacity_l
    needed = RULE.number(view, "fruit" if fruit else "plain")
    if free < needed - HAIR:
        yield _finding(view, free, needed, fruit[1] if fruit else None)


def _finding(view: View, free: float, needed: float, fruit_id: str | None) -> Finding:
    batch = view.batch
    contents = "fruit in it" if fruit_id else "a plain must"
    return RULE.found(
        view,
        Severity.TODAY if batch.pitched else Severity.WATCH,
        f"{words.litres(batch.volume_l or 0.0)} stand in a vessel of {words.litres(batch.capacity_l or 0.0)}:"
        f" {max(0.0, free) * 100:.0f} % is free, and with {contents} {needed * 100:.0f} % is needed.",
        do=(
            "Put on a wide tube that leads into water. Or take some into a second vessel.",
            "Look at the airlock morning and evening until the foam has fallen.",
        ),
        clears_when="a blow-off tube is fitted and recorded, or a larger vessel, or the first week is over.",
        evidence=(batch.mixed.id if batch.mixed else None, fruit_id, batch.pitched.id if batch.pitched else None),
        since=batch.vessel_since,
        look_again=look_in(view, 0.5),
        action=("close", "blow-off"),
    )


def _unknown(view: View, fruit_id: str) -> Finding:
    fact = "size of the vessel" if view.batch.capacity_l is None else "volume of the must"
    return RULE.found(
        view,
        Severity.NOTE,
        "Fruit floats in a vessel that may be too full for it.",
        do=("Leave a fifth of the vessel free. Or put on a wide tube that leads into water.",),
        clears_when=f"the {fact} is recorded, or the first week is over.",
        evidence=(fruit_id,),
        since=view.batch.vessel_since,
        missing=(RULE.cannot_judge(fact, "a vessel that is too full"),),
        look_again=look_in(view, 1),
        action=("close", "blow-off"),
    )
