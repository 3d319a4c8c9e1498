"""A note speaks of something that can hurt, and nobody has said what it means.

What it looks for
    Words of a note that can mean a leak or crack, a lid, bung or cork that moves, a burst bottle, a tight closure, a
    blocked or dry airlock, something hot in glass, bad air, mould, vinegar, or gas in a still drink. What the note
    itself denies or calls settled does not count, nor does what belongs to a roof or a loaf. It ends when the thing is
    looked at, when a look says that all is well, when a later note says it is not so, when the note is corrected, or, a
    week on, after looks on two days that wrote down nothing amiss. A note of the cellar as a whole is asked about for a
    week.

Why it matters
    People write down what they see before they know what it means. A note that nobody reads again warns nobody.

What to do
    Look at what the note names, and record what you see as a look, not as a note. If it means no harm, say so in a
    note.

Source
    Words that people use for these dangers: common practice, medium confidence. A verdict rests on a recorded look
    alone.
"""

from collections.abc import Sequence

from mustwatch.entry.danger.matcher import TOPICS
from mustwatch.judgement.spoken import Spoken, open_in_cellar, open_words
from mustwatch.rules.rule import LIVING_STAGES, Finding, Findings, Rule, Severity, View, look_in, words

RULE = Rule(name="note-speaks-of-danger", severity=Severity.TODAY, stages=LIVING_STAGES)
QUOTED = 60  # signs of a clause
QUOTED_AT_MOST = 3


def check(view: View) -> Findings:
    """One finding for all notes that nothing has answered."""
    if found := open_words(view.batch, view.now):
        yield _finding(view, found)


def check_cellar(views: Sequence[View]) -> Findings:
    """One finding for the notes of the cellar as a whole, on the batch that is there the longest."""
    living = [view for view in views if view.batch.stage != "ended"]
    found = open_in_cellar(living[0].notes, living[0].now) if living else []
    if found:
        yield _finding(min(living, key=lambda view: (view.batch.started or view.now, view.batch.tag)), found)


def _finding(view: View, found: list[Spoken]) -> Finding:
    places = list(TOPICS)
    found = sorted(found, key=lambda spoken: (places.index(spoken.topic), -spoken.event.at.timestamp()))
    topics = dict.fromkeys(spoken.topic for spoken in found)
    asked = [TOPICS[topic] for topic in topics]
    return RULE.found(
        view,
        Severity.TODAY,
        " ".join(_quoted(view, spoken) for spoken in found[:QUOTED_AT_MOST]),
        why="It may mean harm or nothing, and no recorded look tells which.",
        do=(
            *dict.fromkeys(topic.look for topic in asked[:QUOTED_AT_MOST]),
            "Record what you see as a look.",
            "If it means no harm, write a note that says so.",
        ),
        clears_when="the thing is looked at, or a later note says it is not so.",
        evidence=[spoken.event.id for spoken in found],
        since=max(spoken.event.at for spoken in found),
        missing=tuple(f"whether the note speaks of {topic.name}" for topic in asked),
        look_again=look_in(view, 1),
        action=("log", ""),
    )


def _quoted(view: View, spoken: Spoken) -> str:
    said = spoken.words if len(spoken.words) <= QUOTED else f"{spoken.words[: QUOTED - 3].rstrip()}..."
    asks = TOPICS[spoken.topic].asks
    return f'A note of {words.date(view, spoken.event.at)} says "{said}": {asks}'
