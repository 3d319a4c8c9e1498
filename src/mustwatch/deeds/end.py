"""A batch is over."""

from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Keys
from mustwatch.deeds.readers import one_of
from mustwatch.ledger.visible import counted

OUTCOMES = ("drunk", "given", "dumped", "vinegar")
LEFT = ("taken", "stay")
EMPTIES = ("drunk", "given")  # what is poured out is poured out whole


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    values, batch = answers.values, answers.ground.batch
    left = batch.bottles_left if batch and batch.on_shelf else 0
    if values["outcome"] not in EMPTIES or left <= 0:
        return [("ended", answers.keys())]
    if values.get("left") == "taken":
        return [("took", {"count": left, "why": values["outcome"]}), ("ended", answers.keys())]
    if values.get("left") == "stay":
        answers.said.append("what is left of an ended batch is watched no more")
        return [("ended", answers.keys() | {"sure": True})]
    bottles = counted(left, "bottle")
    answers.faults["left"] = f"{bottles} left: taken, if {values['outcome']} too, or stay, if that is right"
    return []


DEED = Deed(
    "end",
    "ended",
    "a batch is over",
    "end a batch",
    (
        Field("outcome", ", ".join(OUTCOMES), one_of(*OUTCOMES), "outcome", OUTCOMES, line="OUTCOME",
              asked=f"what became of it? One of: {', '.join(OUTCOMES)}"),
        Field("left", "bottles that are left: taken or stay", one_of(*LEFT), choices=LEFT, label="bottles left",
              line="--left"),
        WHEN,
        NOTE,
    ),
    events=_events,
)  # fmt: skip
