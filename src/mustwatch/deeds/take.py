"""Bottles leave the shelf."""

from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.readers import one_of
from mustwatch.ledger.visible import counted, visible

WHY = ("drunk", "given", "tested", "broken")


def _count(text: str, _: Ground) -> int:
    try:
        return int(text)
    except ValueError:
        raise ValueError(f"{visible(text.strip(), limit=20)!r} is no count of bottles; write it like 3") from None


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    values, batch = answers.values, answers.ground.batch
    left, taken, burst = batch.bottles_left if batch else 0, values["count"], values.get("burst") == "yes"
    if taken > left:
        answers.faults["count"] = f"{answers.ground.tag} has {counted(left, 'bottle')} left, {taken} cannot be taken"
    if burst and values.get("why") not in (None, "broken"):
        answers.faults["burst"] = f"a burst bottle is a broken one, and why says {values['why']}; which is right?"
    answers.said.append(f"{left - taken} left")
    why = "broken" if burst else values.get("why", "drunk")
    known = {"yes": True, "no": False}.get(values.get("burst", ""))
    return [("took", answers.keys() | {"why": why, "burst": known})]


DEED = Deed(
    "take",
    "took",
    "bottles leave the shelf",
    "take bottles from the shelf",
    (
        Field("count", "how many; 1 if left out", _count, "count", usual="1", line="COUNT ?"),
        Field("why", "drunk if left out", one_of(*WHY), choices=WHY),
        Field("burst", "a bottle burst or a cap lifted", one_of("yes", "no"), choices=("yes", "no"), line="--burst"),
        WHEN,
        NOTE,
    ),
    events=_events,
    known=lambda ground, prefill: {"why": prefill} if prefill else {},
)
