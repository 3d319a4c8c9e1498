"""What opened, broken and looked-at bottles tell of the gas in them, and whether that still stands."""

import re
from collections.abc import Iterable
from datetime import timedelta

from mustwatch.cellar.batch import Batch, per_batch
from mustwatch.judgement.bottlings import at_bottlings
from mustwatch.judgement.heard import says
from mustwatch.ledger.events import Bottled, Event, Seen, Tasted, Took

QUIET_DAYS = 30.0  # a bottle opened well so long after a bad one is some comfort
GAS = re.compile(
    r"\b(hiss\w*|fizz(?!l)\w*|foam\w*|froth\w*|gush\w*|fountain\w*|spurt\w*|spray\w*|spritz\w*|p[eé]tillan\w*|efferv\w*"
    r"|carbonat\w*|carbonic|carbon dioxide|co2|gas(?! station)|gassy|gasses|bubbl(?:e|es|ed|ing|y)(?! ?gum)"
    r"|sparkl(?:es|ed|y)|(?:slightly|lightly|softly|faintly|almost) sparkling|psh+t?|ps+t|pff+t?"
    r"|prickl(?:e|es|ed|y|ing)(?! (?:pear|of (?!gas|co2|carbon))))\b",
    re.IGNORECASE,
)
_TOP = r"(?:corks?|caps?|crowns?|lids?|stoppers?|bungs?|closures?|swing.?tops?)"
_MOVED = (
    r"(?:push\w*|lift\w*|ris(?:es|en|ing)|rais(?:ed|es|ing)|creep\w*|crept|mov(?:ed|es|ing)|proud|bulg\w*|domed?|doming"
    r"|swell\w*|swollen|shot|shoot\w*|fl(?:ew|ies|ying|own)|forced|weep\w*|seep\w*|blew|blown|half out|out by itself)"
)
_MOVES = r"(?:push\w*|forc(?:ed|es|ing)|blew|blow(?:s|ing|n)|shot|shoots)"
_NOT_IN = r"(?! (?:back |right )?(?:in|into|down)\b)"  # who opens a bottle may push its cork in
_BEFORE = r"(?:\b(?:no|not|none of) (?:the |a |any )?)?"
MOVED_TOP = re.compile(
    rf"{_BEFORE}\b{_TOP}\b[^.,;!?]{{0,30}}?\b{_MOVED}\b{_NOT_IN}|\b{_MOVES}\b[^.,;!?]{{0,20}}?\b{_TOP}\b{_NOT_IN}",
    re.IGNORECASE,
)
OF_BOTTLES = re.compile(rf"\b(?:bottles?|{_TOP[3:-1]})\b", re.IGNORECASE)
_DENIALS = (  # in the words that `says` knows
    (re.compile(r"n't\b", re.IGNORECASE), " not"),
    (re.compile(r"\bno longer\b|\bnot (?:at all|even|really|yet|in the least)\b", re.IGNORECASE), "not"),
    (re.compile(r"\b(no|without|not) (?:a |any )?(?:sign|hint|trace|whiff|sound)s? of\b", re.IGNORECASE), r"\1"),
    (re.compile(r"\b(?:nothing|nor|neither|zero|lacks|lacking|devoid of)\b", re.IGNORECASE), "not"),
)
_LISTED = re.compile(r"\b(no|without|not) (?:any )?(\w+),? (?:or|nor) (?=\w)", re.IGNORECASE)
_STAYED = re.compile(r"\b(?:not|never|none|no)\b", re.IGNORECASE)


def is_still(bottled: Bottled) -> bool:
    """Whether a bottling was meant to hold no gas; not said counts as still."""
    return bottled.style != "sparkling" and bottled.priming is None


def gas_signs(batch: Batch) -> list[Event]:
    """The looks, tastings and bottles taken since the first bottling that tell of gas in a bottle, oldest first.

    A look at airlock or surface tells of a bottle where nothing lies in a vessel; so do its words where they name none.
    """
    first = batch.on_shelf[0].at
    return [event for event in batch.story if event.at > first and _tells_of_gas(batch, event)]


def _tells_of_gas(batch: Batch, event: Event) -> bool:
    in_vessel = batch.vessel_stage is not None
    text = words_of(event)
    if isinstance(event, Seen):
        if not in_vessel and (event.airlock in ("bubbling", "foamed") or event.surface == "foam"):
            return True
        return names_gas(text) and (not in_vessel or OF_BOTTLES.search(text) is not None)
    if isinstance(event, Tasted):
        return names_gas(text) and (not in_vessel or OF_BOTTLES.search(text) is not None)
    return isinstance(event, Took) and names_gas(text)


def names_gas(text: str) -> bool:
    """Whether words tell of gas, or of a closure that it moved, and do not deny it."""
    for pattern, plain in _DENIALS:
        text = pattern.sub(plain, text)
    text = _LISTED.sub(r"\1 \2, \1 ", text)
    return says(text, GAS) or any(_STAYED.search(found[0]) is None for found in MOVED_TOP.finditer(text))


def words_of(event: Event) -> str:
    """The words of a person's own in an event, and of which lot it was where the line tells."""
    parts: list[str | None] = [event.note]
    if isinstance(event, Seen):
        parts += [*event.signs, *event.smell]
    if isinstance(event, Tasted):
        parts += [event.look, event.nose, event.palate, event.balance]
    lot = getattr(event, "lot", None)
    parts += [f"lot {lot}"] if lot is not None else []
    return "; ".join(part for part in parts if part)


def opened_well_since(batch: Batch, last: Event, bad: Iterable[Event] = ()) -> bool:
    """Whether a bottle was opened and drunk a month or more after the last bad one, and was not bad itself."""
    ids = {event.id for event in bad}
    return any(
        isinstance(event, Took)
        and event.why in ("drunk", "tested")
        and event.id not in ids
        and event.at - last.at >= timedelta(days=QUIET_DAYS)
        for event in batch.story
    )


def read_well_since(batch: Batch, last: Event) -> bool:
    """Whether two bottles have read as at bottling after an event, and none lower."""
    held = [bottled.since for bottled in at_bottlings(batch)]
    if any(reading.at >= last.at for since in held for reading in (*since.low, *since.unsure)):
        return False
    return all(sum(reading.at >= last.at for reading in since.others) > 1 for since in held)


@per_batch
def are_suspect(batch: Batch) -> bool:
    """Whether a bottle of what is left burst, or a still one told of gas, and nothing has calmed that since.

    Then nothing that was read or added before makes the lot safe.
    """
    if not batch.on_shelf:
        return False
    since = batch.on_shelf[0].at
    burst = [event for event in batch.story if isinstance(event, Took) and event.burst and event.at >= since]
    if burst and not opened_well_since(batch, burst[-1]):
        return True
    signs = gas_signs(batch) if any(is_still(event) for event in batch.on_shelf) else []
    return bool(signs) and not opened_well_since(batch, signs[-1], signs) and not read_well_since(batch, signs[-1])
