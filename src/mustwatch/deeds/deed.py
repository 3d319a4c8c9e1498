"""What a deed is: one act, declared once. Command, form and quick entry are skins over it. Pure.

A deed reads texts into events. What can hurt is said by its `cautions`, what the rules would say by `foresight`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from mustwatch.deeds.ground import Ground as Ground
from mustwatch.deeds.readers import Reader, degrees, one_of, past, scaled, verbatim, words
from mustwatch.entry.quantity import typed
from mustwatch.ledger.drafts import Unfit, draft
from mustwatch.ledger.events import Event, Noted
from mustwatch.ledger.visible import visible
from mustwatch.said.dates import ago, moment
from mustwatch.said.faults import plainly
from mustwatch.said.telling import told

if TYPE_CHECKING:
    from mustwatch.ledger.settings import Settings

Keys = dict[str, Any]
Texts = Mapping[str, str]
ECHOED = 200  # cells of a note that are said back; all of it is kept
JUST_NOW = timedelta(seconds=60)  # a time further back than that was meant, and is said back
SEVERAL = re.compile(r"\s\+\s")


class Field(NamedTuple):
    """One thing a deed is told.

    hint: what to write; read: the reader of its text. key: its dotted place in the event, "*" for a part of the event
    itself, "" where the deed places it. label: in a form, where it is not the name. asked: the question where it is
    blank; usual: what is meant where nothing is said. several: values parted by " + ".
    line: on the command line: "--class NAME"; "CLOSURE +" stands without an option, as often as argparse's sign says;
    "--burst" with neither is a switch.
    """

    name: str
    hint: str = ""
    read: Reader = words
    key: str = ""
    choices: tuple[str, ...] = ()
    label: str = ""
    asked: str = ""
    usual: str = ""
    several: bool = False
    line: str = ""

    def written(self, text: str, ground: Ground) -> tuple[str, ...]:
        """The values as written, each by itself and with its scale. Raises ValueError where that may be another."""
        if self.read is degrees and ground.scaled:
            return (scaled(text, ground.settings),)
        return tuple(SEVERAL.split(text)) if self.several else (text,)

    def label_for(self, settings: Settings) -> str:
        """Its label in a form, with the scale of a bare temperature."""
        return f"{self.label or self.name}{f' {settings.temperature}' if self.read is degrees else ''}"


WHEN = Field("when", "now; yesterday 21:00, fri 18:00", past, line="--at WHEN")
SURE = Field("sure", "the amounts are right as they are", one_of("yes", "no"), choices=("yes", "no"), line="--sure")
NOTE = Field("note", "kept word for word", verbatim, "note", line="--note TEXT")


@dataclass(slots=True)
class Answers:
    """What was said to a deed. values: as read, by field; faults: field -> one line; said: what was understood beyond
    what the events tell by themselves."""

    deed: Deed
    texts: Texts
    ground: Ground
    values: Keys = field(default_factory=dict)
    faults: dict[str, str] = field(default_factory=dict)
    said: list[str] = field(default_factory=list)
    converted: list[str] = field(default_factory=list)

    def read(self, one: Field) -> None:
        """Reads a field; what is amiss becomes its fault."""
        text = self.texts.get(one.name, "")
        if not text.strip():
            if one.asked:
                self.faults[one.name] = one.asked
            if not one.usual or one.asked:
                return
            text = one.usual
        try:
            written = one.written(text, self.ground)
            values = tuple(one.read(part, self.ground) for part in written)
        except ValueError as error:
            self.faults[one.name] = visible(str(error))
            return
        self.values[one.name] = values if one.several else values[0]
        self.converted += [part for part, value in zip(written, values, strict=True) if isinstance(value, float | dict)]

    def keys(self) -> Keys:
        """The keys of the event that the fields fill, with what was typed where it was converted."""
        keys: Keys = {}
        for one in self.deed.fields:
            if one.key and one.name in self.values:
                _put(keys, one.key, self.values[one.name])
        return keys | {"typed": typed(*self.converted)}


def _put(keys: Keys, path: str, value: Any) -> None:
    first, _, rest = path.partition(".")
    if rest:
        _put(keys.setdefault(first, {}), rest, value)
    elif isinstance(value, dict):
        (keys if path == "*" else keys.setdefault(path, {})).update(value)
    else:
        keys[path] = value


class Deed(NamedTuple):
    """One act.

    kind: of its event; title: what it is, over its form; help: the same on the command line, with an example;
    of: whom it concerns. events: its drafts as (kind, keys), given answers without a fault; it may add faults.
    cautions: what can hurt, given values by field or by key of the event. known: field -> text to start with, given
    what a finding asks for. split: the texts of command-line words that stand without option.
    """

    name: str
    kind: str
    title: str
    help: str
    fields: tuple[Field, ...]
    events: Callable[[Answers], list[tuple[str, Keys]]] = lambda answers: [(answers.deed.kind, answers.keys())]
    cautions: Callable[[Mapping[str, Any]], tuple[str, ...]] = lambda values: ()
    known: Callable[[Ground, str], dict[str, str]] = lambda ground, prefill: {}
    split: Callable[[Sequence[str]], dict[str, str]] | None = None
    of: Literal["batch", "new", "cellar", "either"] = "batch"

    def first(self, ground: Ground, prefill: str = "") -> dict[str, str]:
        """What stands in its form at first: what is usual, what is known, what a finding asks for."""
        usual = {one.name: one.usual for one in self.fields if one.usual and not one.asked}
        return usual | self.known(ground, prefill)


@dataclass(frozen=True, slots=True)
class Understood:
    """What answers mean. With a fault nothing may be saved. faults: field -> one line; wanting: the faulty fields in
    which nothing is said yet; words: all that was understood."""

    events: tuple[Event, ...] = ()
    words: tuple[str, ...] = ()
    faults: Mapping[str, str] = field(default_factory=dict)
    wanting: frozenset[str] = frozenset()
    cautions: tuple[str, ...] = ()


def understood(deed: Deed, texts: Texts, ground: Ground) -> Understood:
    """What the texts of a deed's fields mean. Never raises."""
    answers = Answers(deed, texts, ground)
    for one in deed.fields:
        answers.read(one)
    cautions = deed.cautions(answers.values)
    drafts = [] if answers.faults else deed.events(answers)
    events: list[Event] = []
    if not answers.faults:
        at, tag = answers.values.get("when", ground.now), answers.values.get("tag", ground.tag)
        try:
            events = [draft(kind, at, tag, **keys) for kind, keys in drafts]
        except Unfit as error:
            answers.faults[_place_of(deed, error.path)] = visible(plainly(str(error)))
        except ValueError as error:  # a tag that somebody else's program wrote and none of ours would
            answers.faults[deed.fields[0].name] = visible(str(error))
    if answers.faults:
        blank = frozenset(name for name in answers.faults if not texts.get(name, "").strip())
        return Understood(faults=answers.faults, wanting=blank, cautions=cautions)
    return Understood(tuple(events), _in_words(answers, events), cautions=cautions)


def _place_of(deed: Deed, path: str) -> str:
    """The field whose value the vocabulary refused."""
    fits = [one for one in deed.fields if one.key and (path.startswith(one.key) or (one.key == "*" and path in "gl"))]
    return max(fits, key=lambda one: len(one.key), default=deed.fields[0]).name


def _in_words(answers: Answers, events: Sequence[Event]) -> tuple[str, ...]:
    ground = answers.ground
    first, *more = (told(event, ground.settings, ground.now) for event in events)
    lines = [*([] if isinstance(events[0], Noted) else [first]), *answers.said, *more]
    lines += note_and_when(events[0], ground.now)
    return tuple(visible(line) for line in lines)


def note_and_when(event: Event, now: datetime) -> list[str]:
    """The note of an event, and its time where it is not now, in words."""
    lines = [f"note: {visible(event.note, limit=ECHOED)}"] if event.note else []
    return lines + ([f"when: {moment(event.at, now)}, {ago(event.at, now)}"] if abs(now - event.at) > JUST_NOW else [])
