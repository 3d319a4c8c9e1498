"""What a form is: its fields, what they mean together, what stands in it at first, and its cautions. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, TypeVar

from mustwatch.cellar.batch import Batch
from mustwatch.entry.when import moment
from mustwatch.ledger.events import Event, draft
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import visible

Value = TypeVar("Value")
Texts = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Field:
    """One line to fill in. key: where in the event its value goes, for what the vocabulary itself refuses."""

    name: str
    label: str
    help: str
    options: tuple[str, ...] = ()
    key: str = ""


WHEN = Field("when", "when", "now; yesterday 21:00, fri 18:00")
NOTE = Field("note", "note", "kept word for word")


@dataclass(slots=True)
class Answers:
    """What is typed in a form. Reading a field that is amiss puts one line into `faults` and gives None.

    said: what was understood beyond what the events tell by themselves.
    """

    texts: Texts
    batch: Batch
    settings: Settings
    now: datetime
    faults: dict[str, str] = field(default_factory=dict)
    said: list[str] = field(default_factory=list)

    def text(self, name: str) -> str | None:
        """What is typed in a field, None where it is blank."""
        return self.texts.get(name, "").strip() or None

    def value(self, name: str, reader: Callable[[str], Value]) -> Value | None:
        """What a field means to its reader."""
        text = self.text(name)
        if text is None:
            return None
        try:
            return reader(text)
        except ValueError as error:
            self.faults.setdefault(name, visible(str(error)))
            return None

    def told_value(self, name: str, reader: Callable[[str], Value], words: str) -> Value | None:
        """The same, and says it in words such as `must {:g} C`."""
        value = self.value(name, reader)
        if value is not None:
            self.said.append(words.format(value))
        return value

    @property
    def at(self) -> datetime:
        """When it happened: now where nothing is typed."""
        at = self.value("when", lambda text: moment(text, self.now))
        if "when" in self.faults:
            # The sign that begins a time in the note line is of no use in a field of its own.
            self.faults["when"] = self.faults["when"].replace("@", "")
        return at or self.now


@dataclass(frozen=True, slots=True)
class Form:
    """One form. events: drafts of (kind, keys), in order; known: field -> text to start with, given what a
    finding asks for; cautions: what can hurt, where it is decided."""

    name: str
    title: str
    fields: tuple[Field, ...]
    events: Callable[[Answers], list[tuple[str, dict[str, Any]]]]
    known: Callable[[Batch, str, datetime, Settings], dict[str, str]]
    cautions: Callable[[Answers], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Understood:
    """What a filled form means. With a fault nothing may be saved. faults: field -> one line;
    wanting: the faulty fields in which nothing is typed yet."""

    events: tuple[Event, ...] = ()
    words: tuple[str, ...] = ()
    faults: Mapping[str, str] = field(default_factory=dict)
    wanting: frozenset[str] = frozenset()
    cautions: tuple[str, ...] = ()


def understood(form: Form, texts: Texts, batch: Batch, settings: Settings, now: datetime) -> Understood:
    """What the fields of a form mean for a batch, typed at `now`. Never raises."""
    from mustwatch.said import dates
    from mustwatch.said.telling import told_with_note

    answers = Answers(texts, batch, settings, now)
    drafts, at = form.events(answers), answers.at
    cautions = form.cautions(answers)
    if answers.faults:
        blank = frozenset(name for name in answers.faults if answers.text(name) is None)
        return Understood(faults=answers.faults, wanting=blank, cautions=cautions)
    try:
        events = [draft(kind, at, batch.tag, **keys) for kind, keys in drafts]
    except ValueError as error:
        return Understood(faults={_place_of(form, str(error)): visible(str(error))}, cautions=cautions)
    words = [told_with_note(event, settings) for event in events] + answers.said
    if at != now:
        words.append(f"on {dates.moment(at, now)}, {dates.ago(at, now)}")
    return Understood(tuple(events), tuple(visible(one) for one in words), cautions=cautions)


def _place_of(form: Form, refusal: str) -> str:
    """The field whose value the vocabulary refused."""
    path = refusal.partition(":")[0]
    return next((one.name for one in form.fields if one.key and path.startswith(one.key)), form.fields[0].name)
