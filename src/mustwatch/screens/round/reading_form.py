"""The reading form: what was read and seen of one batch, with an echo of what it was understood to mean."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from mustwatch.ledger.visible import visible
from mustwatch.screens.ink import Line, wrapped
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.choice import Choice
from mustwatch.screens.round.form import CHOICES, FIELDS, Draft

if TYPE_CHECKING:
    from mustwatch.screens.entry_input import EntryInput

# Cells of the fields, the same in round.tcss; the note takes what is left.
WIDTHS = {
    "gravity": 18,
    "scale": 11,
    "sample": 18,
    "must": 15,
    "airlock": 18,
    "surface": 18,
    "when": 25,
}  # as in the CSS
ROWS = (("gravity", "scale", "sample", "must", "airlock"), ("surface", "note", "when"))


class Field(Pane):
    """A label and its field."""

    def __init__(self, name: str, label: str) -> None:
        super().__init__(id=f"field-{name}")
        self.field = name
        self.label = label

    def entry(self) -> Widget:
        """The widget that takes what is typed."""
        options = CHOICES.get(self.field)
        if options:
            return Choice(options, id=self.field)
        from mustwatch.screens.entry_input import EntryInput

        return EntryInput(id=self.field)

    def render_line(self, y: int) -> Strip:
        """The label; an exclamation mark before it where something is amiss."""
        amiss = self.has_class("-amiss")
        text = f"{'!' if amiss else ' '}{self.label}"
        return self.drawn(((text, "danger" if amiss else "dim"),), self.size.width)


class ReadingForm(Vertical):
    """Fields, and under them the echo."""

    BINDINGS = [
        Binding("ctrl+s", "submit", show=False),
        Binding("ctrl+l", "clear", show=False),
        Binding("up", "other(-1)", show=False),
        Binding("down", "other(1)", show=False),
        Binding("escape", "leave", show=False),
    ]

    @dataclass
    class Edited(Message):
        """What is typed has changed."""

        tag: str | None
        fields: Mapping[str, str]

    class Submitted(Message):
        """The user asks to save."""

    class Left(Message):
        """The user goes back to the list; what was typed stays."""

    @dataclass
    class Other(Message):
        """The user goes to another batch, keeping the field."""

        by: int

    def __init__(self) -> None:
        super().__init__(id="form")
        self._fields: dict[str, str] = {}
        self._tag: str | None = None
        self._ready = False
        self._scale = "C"
        self.title = ""

    def compose(self) -> ComposeResult:
        yield Pane(id="form-title")
        yield Pane(id="labels")
        yield Pane(id="echo")

    def set_degrees(self, scale: str) -> None:
        """Names the scale that a bare temperature is in, and draws the labels."""
        self._scale = scale
        first, second = ([self._label(name) for name in names] for names in ROWS)
        room = self.app.size.width
        lines = [
            "".join(f" {label}".ljust(WIDTHS[name]) for label, name in zip(first, ROWS[0], strict=True)),
            f" {second[0]}".ljust(WIDTHS["surface"])
            + f" {second[1]}".ljust(room - WIDTHS["surface"] - WIDTHS["when"])
            + f" {second[2]}",
        ]
        self.query_one("#labels", Pane).show([((text, "dim"),) for text in lines])

    def _label(self, name: str) -> str:
        return f"{name} {self._scale}" if name in ("sample", "must") else name

    async def make_ready(self) -> None:
        """Puts the fields in the place of their labels: the first frame need not wait for them."""
        rows = [
            Horizontal(*(Field(name, self._label(name)) for name in names), classes="fields", id=f"row-{number}")
            for number, names in enumerate(ROWS)
        ]
        await self.mount(*rows, after="#form-title")
        await self.query_one("#labels").remove()
        for name in FIELDS:
            field = self.query_one(f"#field-{name}", Field)
            await field.mount(field.entry())
        self._ready = True
        self._fill()

    def load(self, tag: str | None, title: str, fields: Mapping[str, str]) -> None:
        """Shows another batch's fields, as they were typed before."""
        self._tag, self._fields = tag, dict(fields)
        self.title = title
        self._draw_title()
        if self._ready:
            self._fill()

    def _fill(self) -> None:
        from textual.widgets import Input

        with self.prevent(Input.Changed, Choice.Changed):
            for name, entry in self._entries():
                text = self._fields.get(name, "")
                if entry.value != text:
                    entry.value = text
                    if isinstance(entry, Input):
                        entry.cursor_position = len(text)

    def _entries(self) -> Iterator[tuple[str, EntryInput | Choice]]:
        for name in FIELDS:
            for entry in self.query(f"#{name}"):
                yield name, entry  # type: ignore[misc]

    def focus_field(self, name: str = "gravity") -> None:
        """Puts the cursor into a field, at once: the next key may already be on its way."""
        self.screen.set_focus(self.query_one(f"#{name}"))

    def put(self, name: str, text: str) -> None:
        """Writes into a field as if it had been typed."""
        self._fields[name] = text
        self._fill()
        self._edited()

    @property
    def focused_field(self) -> str | None:
        """The field the cursor is in."""
        return next((name for name, entry in self._entries() if entry.has_focus), None)

    def show_draft(self, draft: Draft, hint: str) -> None:
        """Echoes what the fields mean, or the first thing that is amiss."""
        for field in self.query(Field):
            field.set_class(field.field in draft.faults, "-amiss")
            field.refresh()
        width = max(20, self.app.size.width - 2)
        self.query_one("#echo", Pane).show(_echo(draft, hint, width), top=0)

    def _draw_title(self) -> None:
        title = visible(self.title)
        rule = "─" * max(0, self.app.size.width - len(title) - 5)
        self.query_one("#form-title", Pane).show(((("── ", "dim"), (title, "strong"), (f" {rule}", "dim")),))

    def on_resize(self) -> None:
        """Draws the rule over the whole new width."""
        self._draw_title()

    def on_input_changed(self, event: Message) -> None:
        """Something was typed."""
        event.stop()
        self._take()

    def on_choice_changed(self, event: Message) -> None:
        """Something was picked."""
        event.stop()
        self._take()

    def _take(self) -> None:
        for name, entry in self._entries():
            self._fields[name] = entry.value
        self._edited()

    def _edited(self) -> None:
        self.post_message(self.Edited(self._tag, {name: text for name, text in self._fields.items() if text}))

    def on_input_submitted(self, event: Message) -> None:
        """Enter in a field."""
        event.stop()
        self._onward()

    def on_choice_submitted(self, event: Message) -> None:
        """Enter in a field of words."""
        event.stop()
        self._onward()

    def _onward(self) -> None:
        place = FIELDS.index(self.focused_field or FIELDS[-1])
        if place == len(FIELDS) - 1:
            self.post_message(self.Submitted())
        else:
            self.focus_field(FIELDS[place + 1])

    def action_submit(self) -> None:
        """Asks to save."""
        self.post_message(self.Submitted())

    def action_clear(self) -> None:
        """Empties all fields of this batch."""
        self._fields = {}
        self._fill()
        self._edited()

    def action_other(self, by: int) -> None:
        """Goes to another batch."""
        self.post_message(self.Other(by))

    def action_leave(self) -> None:
        """Goes back to the list."""
        self.post_message(self.Left())


def _echo(draft: Draft, hint: str, width: int) -> list[Line]:
    if draft.faults:
        name, text = next(iter(draft.faults.items()))
        return [*wrapped(f"{name}: {text}", width, "danger", " ! ", "   ")]
    if draft.empty:
        return wrapped(hint, width, "dim", " ", " ")
    return wrapped("; ".join(draft.understood), width, "good", " = ", "   ")
