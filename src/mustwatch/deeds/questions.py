"""What is asked at the entry of a note whose words can mean danger, and what the answer records. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import TYPE_CHECKING, NamedTuple

from mustwatch.entry.danger.matcher import TOPICS
from mustwatch.judgement.spoken import answers, questions_of
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event

if TYPE_CHECKING:
    from mustwatch.deeds.ground import Ground

OF_NOW = timedelta(days=2)  # what is typed in from a diary is not asked of as it is now
MOST = 2  # questions to one entry: whoever is asked more answers blindly


class Question(NamedTuple):
    """One question to a note. place: of its event among those entered; topic: its key in `TOPICS`."""

    place: int
    topic: str

    @property
    def asks(self) -> str:
        """The question, to be answered by yes or no."""
        topic = TOPICS[self.topic]
        return f"The note speaks of {topic.name}: {topic.asks}"


def questions(ground: Ground, events: Sequence[Event]) -> tuple[Question, ...]:
    """What is to be asked of notes that are entered, worst first; nothing of what the entry itself answers."""
    batch = ground.batch
    if batch is None:
        return ()
    found = (
        Question(place, topic)
        for place, event in enumerate(events)
        if event.note and event.batch == batch.tag and ground.now - event.at < OF_NOW
        for topic in questions_of(batch, event.note, event.kind, event.at)
        if topic not in event.harmless and not any(answers(other, topic) for other in events)
    )
    return tuple(found)[:MOST]


def affirmed(question: Question, events: Sequence[Event]) -> Event:
    """The draft of the look, or of the closure, that a yes records beside the note."""
    event = events[question.place]
    kind, keys = TOPICS[question.topic].seen
    return draft(kind, event.at, event.batch, **keys)


def denied(question: Question, events: Sequence[Event]) -> Event:
    """The event of the note, with the answer that its words mean no such harm."""
    event = events[question.place]
    return event.model_copy(update={"harmless": (*event.harmless, question.topic)})
