"""Bottles poured back into a vessel."""

import re
from collections.abc import Sequence
from typing import Any

from mustwatch.deeds.close import sealed_caution
from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.readers import closure, vessel
from mustwatch.entry.quantity import CLOSURES, fits, lot_of
from mustwatch.ledger.visible import counted, visible

ALL = re.compile(r"\s*all(?:\s+(?:bottles|of them))?\s*", re.IGNORECASE)
ALL_OF = re.compile(r"\s*all\s*(?:[x×*]|of)?\s*(?:the\s+)?(\S.*)", re.IGNORECASE)
CAUTION = (
    "A bottle under pressure can burst in the hand: chill the bottles, and cover eyes, face and hands."
    " Open each over a bucket under a cloth, and let it foam out. Carbon dioxide gathers low: let air in first."
)


def _lots(text: str, ground: Ground) -> list[Keys]:
    """One lot to pour back: 5 x 750ml, all x 750ml; no lot at all for all bottles."""
    if ALL.fullmatch(text):
        return []
    every = ALL_OF.fullmatch(text)
    try:
        lot = lot_of(f"1 x {every[1]}" if every else text, ground.settings.gallon)
    except ValueError:
        shown = visible(text.strip(), limit=40)
        raise ValueError(f"{shown!r}: write it like all, 5 x 750ml or all x 330ml") from None
    return [{"size_ml": lot["size_ml"]} | ({} if every else {"count": lot["count"]})]


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    values, batch = answers.values, answers.ground.batch
    lots = [lot for part in values["lots"] for lot in part]
    left = batch.bottles_left if batch else 0
    poured = sum(lot.get("count", 0) for lot in lots)
    if not batch or not batch.on_shelf:
        answers.faults["lots"] = f"{answers.ground.tag} has no bottles to pour back"
    elif batch.bottles_made and poured > left:
        answers.faults["lots"] = f"{answers.ground.tag} has {counted(left, 'bottle')} left, {poured} cannot be poured"
    litres = sum(lot["size_ml"] * lot.get("count", 0) for lot in lots) / 1000
    try:
        fits(litres or None, values.get("into"))
    except ValueError as error:
        answers.faults["into"] = str(error)
    if "closure" not in values:
        answers.said.append("closure NOT KNOWN until it is recorded")
    answers.said.append("it is taken to be alive until readings prove its rest")
    return [("poured_back", answers.keys() | {"lots": lots})]


def _split(words: Sequence[str]) -> dict[str, str]:
    """The lots as they were meant: words that no quotes held together are one lot."""
    alone = not all(re.match(r"\s*(?:\d+|all)\s*[x×*]\s*\S", word, re.IGNORECASE) for word in words)
    return {"lots": " ".join(words) if alone else " + ".join(words)}


def _cautions(values: Any) -> tuple[str, ...]:
    return (*sealed_caution(values), CAUTION)


DEED = Deed(
    "pour-back",
    "poured_back",
    "bottles poured back into a vessel",
    "pour bottles back: pour-back TAG all --into 'jug 5 l' --closure airlock, pour-back TAG '5 x 750ml'",
    (
        Field("lots", "all, or 5 x 750ml + all x 330ml", _lots, label="bottles", usual="all", several=True,
              line="LOT *"),
        Field("into", "kind and size, such as jug 5 l", vessel, "vessel", line="--into KIND SIZE"),
        Field("closure", "what is on it now; letter picks", closure, "closure", CLOSURES, line="--closure CLOSURE"),
        WHEN,
        NOTE,
    ),
    events=_events,
    cautions=_cautions,
    split=_split,
)  # fmt: skip
