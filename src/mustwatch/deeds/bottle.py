"""Into bottles, with the lots, the closure and the priming on record."""

import re
from collections.abc import Sequence

from mustwatch.deeds.deed import NOTE, SURE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.readers import lot, mass_g, number, one_of
from mustwatch.judgement.amounts import is_too_much, room_left
from mustwatch.said.figures import litres

HIGHEST_BAR = 20.0  # no bottle bears as much; psi taken for bar would silence the warning of pressure
LOTS = ("lot1", "lot2", "lot3", "lot4")
STYLES = ("still", "sparkling")
CAUTION = (
    "Sugar that can still ferment turns into gas with nowhere to go: glass bursts and cuts, also weeks later."
    " Bottle only what is at rest; sparkling only in bottles made for it, measured priming, eyes protected."
)
_rating = number("bar", "bar gauge", like=6, low=0, high=HIGHEST_BAR,
                 slip=" gauge; is it in psi? 60 psi is 4.1 bar")  # fmt: skip


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    values = answers.values
    lots = [one for name in LOTS for one in values.get(name, ())]
    if not lots:
        answers.faults["lot1"] = "how many of which bottles? Write it like 12 x 330ml beer crown-cap"
    if values.get("sure") != "yes" and "lot1" not in answers.faults:
        _fill(answers, lots)
    rated = {"rating_bar": values["rating"]} if "rating" in values else {}
    keys: Keys = {"lots": [one | rated for one in lots]} | answers.keys()
    if values.get("sure") == "yes":
        keys["sure"] = True
    if "priming" in values:
        keys["priming"] = {"what": values["sugar"], "g": values["priming"]}
    return [("bottled", keys)]


def _fill(answers: Answers, lots: Sequence[Keys]) -> None:
    """Asks where the bottles hold more than is left to fill them, with how many bottles that would be."""
    batch = answers.ground.batch
    at = answers.values.get("when", answers.ground.now)
    filled = sum(one["size_ml"] * one["count"] for one in lots) / 1000
    if batch is None or not is_too_much(filled, batch.story, at):
        return
    room = room_left(batch.story, at) or 0.0
    size = max(one["size_ml"] for one in lots)
    count = int(room * 1000 // size)
    instead = f": {count} x {size:g}ml would take it" if count else ""
    answers.faults["lot1"] = (
        f"these hold {litres(filled)}, and {litres(room)} is left to fill them{instead};"
        " which is right? If the bottles, say sure"
    )


def _known(ground: Ground, prefill: str) -> dict[str, str]:
    target = ground.batch.mixed.target if ground.batch and ground.batch.mixed else None
    style = {"sparkling": "sparkling", "dry": "still", "sweet": "still"}.get((target and target.finish) or "")
    return {"style": style} if style else {}


def _split(words: Sequence[str]) -> dict[str, str]:
    """The lots as they were meant: words that no quotes held together are one lot."""
    alone = not all(re.match(r"\s*\d+\s*[x×*]\s*\S", word, re.IGNORECASE) for word in words)
    lots = [" ".join(words)] if alone else list(words)
    last = len(LOTS) - 1
    return dict(zip(LOTS, [*lots[:last], " + ".join(lots[last:])], strict=False))


DEED = Deed(
    "bottle",
    "bottled",
    "into bottles",
    "bottle a batch: bottle TAG '12 x 330ml beer crown-cap' --style still",
    (
        Field("lot1", "12 x 330ml beer crown-cap", lot, label="bottles", several=True, line="LOT +"),
        Field("lot2", "6 x 750ml still-wine cork", lot, label="and", several=True, line="-"),
        Field("lot3", "COUNT x SIZE BOTTLE CLOSURE", lot, label="and", several=True, line="-"),
        Field("lot4", "one kind a line", lot, label="and", several=True, line="-"),
        Field("style", "letter or space picks", one_of(*STYLES), "style", STYLES),
        Field("rating", "bar the bottles are made for, as 6", _rating, line="--rating BAR"),
        Field("priming", "sugar in all, such as 30 g", mass_g, line="--priming AMOUNT"),
        Field("sugar", "sucrose, glucose or honey", label="of", usual="sucrose", line="--priming-sugar NAME"),
        SURE,
        WHEN,
        NOTE,
    ),
    events=_events,
    cautions=lambda values: (CAUTION,),
    known=_known,
    split=_split,
)  # fmt: skip
