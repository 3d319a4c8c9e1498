"""Into bottles, with the lots, the closure and the priming on record."""

import re
from collections.abc import Sequence

from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.readers import lot, mass_g, number, one_of
from mustwatch.entry.quantity import same_batch

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
    values, batch = answers.values, answers.ground.batch
    lots = [one for name in LOTS for one in values.get(name, ())]
    if not lots:
        answers.faults["lot1"] = "how many of which bottles? Write it like 12 x 330ml beer crown-cap"
    try:
        same_batch(sum(one["size_ml"] * one["count"] for one in lots) / 1000, batch.volume_l if batch else None)
    except ValueError as error:
        answers.faults["lot1"] = str(error)
    rated = {"rating_bar": values["rating"]} if "rating" in values else {}
    keys: Keys = {"lots": [one | rated for one in lots]} | answers.keys()
    if "priming" in values:
        keys["priming"] = {"what": values["sugar"], "g": values["priming"]}
    return [("bottled", keys)]


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
        WHEN,
        NOTE,
    ),
    events=_events,
    cautions=lambda values: (CAUTION,),
    known=_known,
    split=_split,
)  # fmt: skip
