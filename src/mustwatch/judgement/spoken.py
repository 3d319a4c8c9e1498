"""What notes say that can mean danger, and what has answered it since. Words lead to a question, never to a verdict."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from mustwatch.cellar.batch import Batch, per_batch
from mustwatch.entry.danger.matcher import TOPICS, Where, denies, suspicions
from mustwatch.ledger.events import Bottled, Closed, Event, PouredBack, Racked, Read, Seen, Tasted, Took

OLD = timedelta(days=7)  # a note so old that was followed by two looks on other days asks nothing; common practice
LOOKS = 2
FADES = {"hot": timedelta(hours=12), "gas": timedelta(days=7)}  # glass has cooled, air has changed; common practice
ALL_WELL = "all well"  # the sign of one key in the round: looked, and nothing was amiss
ANYWHERE = Where(bottled=True)
IN_CELLAR = ("burst", "lid", "leak", "gas")  # what a note of the whole cellar is asked about
CELLAR_DAYS = timedelta(days=7)  # for which it is asked, since no look answers it: judgement
OF_BOTTLES = frozenset({"burst", "fizz"})
OF_VESSELS = frozenset({"lid", "leak", "hot", "closed", "lock", "dry"})
JUDGED_AS_LOOKS = {"seen": frozenset(TOPICS), "took": OF_BOTTLES, "tasted": OF_BOTTLES | {"vinegar"}}


class Spoken(NamedTuple):
    """Words of a note that can mean danger. topic: its key in `TOPICS`; words: the clause, as it was written."""

    event: Event
    topic: str
    words: str


def where_at(batch: Batch, at: datetime) -> Where:
    """Where the drink was at a time: what a word means rests on it."""
    bottled = [event for event in batch.bottlings if event.at <= at]
    in_vessel = not bottled or batch.vessel_stage is not None
    rests = batch.stage_in_vessel == "ageing" and batch.stage_since is not None and batch.stage_since <= at
    sparkles = any(event.style == "sparkling" or event.priming is not None for event in bottled)
    return Where(in_vessel, rests, bool(bottled), sparkles)


def speaks(batch: Batch, at: datetime, words: str, topic: str) -> bool:
    """Whether the words of a look tell of a topic: there they are what was seen."""
    return any(one.topic == topic for one in suspicions(words, where_at(batch, at)))


def questions_of(batch: Batch, note: str, kind: str, at: datetime) -> list[str]:
    """The topics that are to be asked about at the entry of a note, worst first."""
    judged = JUDGED_AS_LOOKS.get(kind, frozenset())
    return [one.topic for one in suspicions(note, where_at(batch, at)) if one.topic not in judged]


def open_words(batch: Batch, now: datetime) -> list[Spoken]:
    """The words of notes that nothing has answered yet, oldest first."""
    return [
        spoken
        for spoken in _spoken(batch)
        if now - spoken.event.at < FADES.get(spoken.topic, timedelta.max) and not _is_answered(batch, spoken)
    ]


def open_in_cellar(notes: Sequence[Event], now: datetime) -> list[Spoken]:
    """The words of the cellar's own notes that no later one has answered, oldest first."""
    told = [event for event in notes if event.kind == "noted" and event.note]
    return [
        Spoken(event, one.topic, one.words)
        for event in told
        if now - event.at < CELLAR_DAYS
        for one in suspicions(event.note or "", ANYWHERE)
        if one.topic in IN_CELLAR and one.topic not in event.harmless
        if not any(later.at > event.at and denies(later.note or "", one.topic) for later in told)
    ]


@per_batch
def _spoken(batch: Batch) -> tuple[Spoken, ...]:
    return tuple(
        Spoken(event, one.topic, one.words)
        for event in batch.story
        if event.note
        for one in suspicions(event.note, where_at(batch, event.at))
        if one.topic not in JUDGED_AS_LOOKS.get(event.kind, ()) and one.topic not in event.harmless
    )


def _is_answered(batch: Batch, spoken: Spoken) -> bool:
    later = [event for event in batch.story if event.at >= spoken.event.at and event.id != spoken.event.id]
    if answers(spoken.event, spoken.topic) and not isinstance(spoken.event, Racked | Bottled | PouredBack):
        return True
    if any(answers(event, spoken.topic) or denies(event.note or "", spoken.topic) for event in later):
        return True
    return _looked_since(spoken.event.at, later)


def answers(event: Event, topic: str) -> bool:
    """Whether an event settles a topic: a look at the thing itself, another vessel or closure."""
    if topic in OF_VESSELS and isinstance(event, Racked | Bottled | PouredBack):
        return True
    if isinstance(event, Closed):
        return topic in ("closed", "lid", "lock", "dry")
    if isinstance(event, Seen):
        return _looked(event, topic)
    return isinstance(event, Took | Tasted) and topic in OF_BOTTLES


def _looked(seen: Seen, topic: str) -> bool:
    """Whether a look tells of the topic: by what was looked at, by all being well, or in signs of one's own."""
    looked_at = {
        "mould": seen.surface is not None,
        "vinegar": bool(seen.smell),
        "lid": seen.airlock == "bubbling",
        **dict.fromkeys(("lock", "dry", "closed"), seen.airlock is not None),
    }
    if looked_at.get(topic) or ALL_WELL in seen.signs:
        return True
    said = "; ".join((*seen.signs, seen.note or "")).replace("-", " ").replace("_", " ").strip()
    return bool(said) and (any(one.topic == topic for one in suspicions(said, ANYWHERE)) or denies(said, topic))


def _looked_since(at: datetime, later: Sequence[Event]) -> bool:
    """Whether somebody looked often enough, long enough after, and wrote down nothing amiss."""
    days = {
        event.at.date()
        for event in later
        if event.at - at >= OLD and not event.by_itself and isinstance(event, Seen | Read | Took | Tasted)
    }
    return len(days) >= LOOKS
