"""Notes that speak of danger are told from those that do not, in several voices.

`phrases/dangerous.txt` and `phrases/harmless.txt` were written before the table of signs; each further voice was
written and measured before the table was touched again. All were written by one author, so none is blind: the figures
that tell most are those of a voice when it was first measured. Asked about then, in per cent: the second voice 51, the
third 78, the fourth 69, the fifth 90, the sixth 81, the seventh 91, the eighth 92, the ninth 93, the tenth 94; of the
harmless 11, 9, 3, 11, 9, 11, 7, 7 and 8. Of an eleventh, which is not kept here, 28 of 30 and none of 30.
"""

from __future__ import annotations

import zlib
from pathlib import Path

import pytest

from mustwatch.entry.danger.matcher import LONGEST, TOPICS, Where, denies, mended, suspicions

PHRASES = Path(__file__).parent / "phrases"
PLACES = {
    "v": Where(),
    "r": Where(rests=True),
    "b": Where(vessel=False, bottled=True),
    "s": Where(vessel=False, bottled=True, sparkles=True),
}
ALSO = {"lock": {"dry"}, "lid": {"closed"}}  # a question that leads to the same look


def _rows(name: str) -> list[list[str]]:
    lines = (PHRASES / name).read_text(encoding="utf-8").splitlines()
    return [[part.strip() for part in line.split(" | ")] for line in lines if line and not line.startswith("#")]


def _half(words: str) -> int:
    return zlib.crc32(words.encode()) % 2


def _topics(where: str, note: str) -> set[str]:
    return {one.topic for one in suspicions(note, PLACES[where])}


@pytest.mark.parametrize("half", [0, 1])
def test_of_dangerous_notes_nine_in_ten_are_asked_about(half: int) -> None:
    """By the right question: one about mould would not make anybody look at a crack."""
    rows = [row for row in _rows("dangerous.txt") if _half(row[2]) == half]
    asked = [note for topic, where, note in rows if _topics(where, note) & {topic, *ALSO.get(topic, ())}]
    assert len(rows) > 150 and len(asked) >= 0.9 * len(rows)


@pytest.mark.parametrize("half", [0, 1])
def test_of_harmless_notes_at_most_one_in_twenty_is_asked_about(half: int) -> None:
    """Whoever is asked about every pepper mill answers without reading."""
    rows = [row for row in _rows("harmless.txt") if _half(row[1]) == half]
    asked = [note for where, note in rows if _topics(where, note)]
    assert len(rows) > 150 and len(asked) <= 0.05 * len(rows)


@pytest.mark.parametrize(
    "note",
    ["nothing leaks", "no mould, just rafts", "cracked some pepper into it", "the roof leak is fixed", "no cracks",
     "lid is not bulging any more", "not sealed yet, airlock on"],
)  # fmt: skip
def test_what_is_denied_or_of_something_else_is_no_danger(note: str) -> None:
    """The named traps, one by one."""
    assert suspicions(note, Where()) == ()


def test_where_the_drink_is_decides_what_its_words_mean() -> None:
    """A ferment may fizz, a sparkling bottle may hiss; a still bottle may do neither."""
    assert suspicions("fizzy nicely", PLACES["v"]) == () == suspicions("fizzy, hisses", PLACES["s"])
    assert [one.topic for one in suspicions("fizzy, hisses", PLACES["b"])] == ["fizz"]
    assert [one.topic for one in suspicions("gushed over the table", PLACES["s"])] == ["fizz"]


def test_the_words_are_quoted_as_they_were_written() -> None:
    """The finding shows what somebody wrote, not what was made of it."""
    (found,) = suspicions("All well. The CARBOY weeps, I think; more tomorrow", Where())
    assert found.words == "The CARBOY weeps"


@pytest.mark.parametrize(
    ("word", "meant"), [("arilock", "airlock"), ("craked", "cracked"), ("vinegarr", "vinegar"), ("leakng", "leaking")]
)
def test_a_slip_of_the_finger_is_mended(word: str, meant: str) -> None:
    """Tired people type on phones."""
    assert mended(word) == meant


@pytest.mark.parametrize("word", ["fizzy", "leaving", "leading", "would", "scattered", "stopped", "pushed", "battle"])
def test_a_known_word_is_never_mended_towards_danger(word: str) -> None:
    """`leaving for a week` is no leak."""
    assert mended(word) == word


@pytest.mark.parametrize(
    ("note", "topic"),
    [("no leak any more", "leak"), ("lid is not bulging", "lid"), ("no mould, it was foam", "mould")],
)
def test_a_note_can_deny_a_danger(note: str, topic: str) -> None:
    """It answers an earlier note."""
    assert denies(note, topic) and not denies("all quiet", topic)


def test_every_topic_asks_and_says_what_to_look_at() -> None:
    """The question is answered by yes or no, and a yes makes an event."""
    for topic in TOPICS.values():
        assert topic.asks.endswith("?") and topic.look.endswith((".", "?")) and topic.seen[1] and topic.signs


def test_signs_beyond_the_longest_note_are_not_looked_at() -> None:
    """An essay may not cost its length at every look at the cellar."""
    padding = "x " * (LONGEST // 2)
    assert suspicions(padding + "the jug leaks", Where()) == () != suspicions(padding[:-20] + " jug leaks", Where())
