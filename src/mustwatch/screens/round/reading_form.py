"""The reading form: what was read and seen of one batch, with an echo of what it was understood to mean."""

from collections.abc import Mapping
from dataclasses import dataclass

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.strip import Strip
from textual.widgets import Input

from mustwatch.ledger.visible import visible
from mustwatch.screens.ink import Line, wrapped
from mustwatch.screens.inputs import Choice, EntryInput
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.fields import CHOICES, FIELDS, Draft

# Cells of the fields, the same in round.tcss; the note takes what is left, and the airlock up to MOST_AIRLOCK.
MOST_AIRLOCK = 24
WIDTHS = {"gravity": 18, "scale": 11, "sample": 18, "must": 16, "airlock": 18, "surface": 18, "when": 25}
ROWS = (("gravity", "scale", "sample", "must", "airlock"), ("surface", "note", "when"))
HINT = 'a gravity such as 1.042; the note line takes swirled bubbling pH3.6 "a note"'


class Field(Pane):
    """A label and its field."""

    def __init__(self, name: str, label: str) -> None:
        super().__init__(id=f"field-{name}")
        self.field = name
        self.label = label
        self.entry = Choice(CHOICES[name], id=name) if name in CHOICES else EntryInput(id=name)
        self.entry.styles.margin = (0, 1, 0, len(label) + 2)

    def compose(self) -> ComposeResult:
        yield self.entry

    def render_line(self, y: int) -> Strip:
        """The label and the ends of the field; an exclamation mark before it where something is amiss."""
        amiss = self.has_class("-amiss")
        text = boxed(f"{'!' if amiss else ' '}{self.label}", self.size.width)
        return self.drawn(((text, "danger" if amiss else ""),), self.size.width)


def boxed(label: str, width: int) -> str:
    """A label and an empty field behind it, in `width` cells: a field is seen as one where nothing is underlined."""
    return f"{label}[{']'.rjust(width - len(label) - 1)}"


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

    def __init__(self, degrees: str) -> None:
        """degrees: the scale that a bare temperature is in, °C or °F."""
        super().__init__(id="form")
        self._degrees = degrees
        self._fields: dict[str, str] = {}
        self._tag: str | None = None
        self._entries: dict[str, EntryInput | Choice] = {}

    def compose(self) -> ComposeResult:
        yield Pane(id="form-title")
        yield Pane(id="labels")
        yield Pane(id="echo")

    def on_mount(self) -> None:
        """Draws the labels: the first frame need not wait for the fields."""
        self.query_one("#labels", Pane).show(self._label_lines)

    def _label_lines(self, width: int) -> list[Line]:
        # A narrow screen scrolls over its fields.
        widths = WIDTHS | {"note": max(24, width - WIDTHS["surface"] - WIDTHS["when"])}
        widths["airlock"] = max(17, min(MOST_AIRLOCK, width - sum(WIDTHS[name] for name in ROWS[0][:-1])))
        return [(("".join(boxed(f" {self._label(name)}", widths[name]) for name in names), ""),) for names in ROWS]

    def _label(self, name: str) -> str:
        return f"{name} {self._degrees}" if name in ("sample", "must") else name

    async def make_ready(self) -> None:
        """Puts the fields in the place of their labels."""
        rows = [
            Horizontal(*(Field(name, self._label(name)) for name in names), classes="fields", id=f"row-{number}")
            for number, names in enumerate(ROWS)
        ]
        await self.mount(*rows, after="#form-title")
        await self.query_one("#labels").remove()
        self._entries = {field.field: field.entry for field in self.query(Field)}
        self._fill()

    def load(self, tag: str | None, read_only: str, fields: Mapping[str, str]) -> None:
        """Shows another batch's fields, as they were typed before."""
        self._tag, self._fields = tag, dict(fields)
        title = visible(form_title(tag, read_only))
        self.query_one("#form-title", Pane).show(
            lambda width: [(("── ", "dim"), (title, "strong"), (f" {'─' * max(0, width - len(title) - 5)}", "dim"))]
        )
        self._fill()

    def _fill(self) -> None:
        with self.prevent(Input.Changed, Choice.Changed):
            for name, entry in self._entries.items():
                text = self._fields.get(name, "")
                if entry.value != text:
                    entry.value = text
                    if isinstance(entry, Input):
                        entry.cursor_position = len(text)

    def focus_field(self, name: str = "gravity") -> None:
        """Puts the cursor into a field, at once: the next key may already be on its way."""
        self.screen.set_focus(self._entries[name])

    def put(self, name: str, text: str) -> None:
        """Writes into a field as if it had been typed."""
        self._fields[name] = text
        self._fill()
        self._edited()

    @property
    def focused_field(self) -> str | None:
        """The field the cursor is in."""
        return next((name for name, entry in self._entries.items() if entry.has_focus), None)

    def show_draft(self, draft: Draft) -> None:
        """Echoes what the fields mean, or the first thing that is amiss."""
        for field in self.query(Field):
            if field.has_class("-amiss") != (field.field in draft.faults):
                field.toggle_class("-amiss")
                field.refresh()
        self.query_one("#echo", Pane).show(lambda width: _echo(draft, max(20, width - 2)), top=0)

    @on(Input.Changed)
    @on(Choice.Changed)
    def _take(self, event: Message) -> None:
        event.stop()
        self._fields |= {name: entry.value for name, entry in self._entries.items()}
        self._edited()

    def _edited(self) -> None:
        self.post_message(self.Edited(self._tag, {name: text for name, text in self._fields.items() if text}))

    @on(Input.Submitted)
    @on(Choice.Submitted)
    def _onward(self, event: Message) -> None:
        event.stop()
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


def form_title(tag: str | None, read_only: str) -> str:
    """The title of the form."""
    return f"reading of {tag or 'no batch'}" + (" (read-only: nothing can be saved)" if read_only else "")


def _echo(draft: Draft, width: int) -> list[Line]:
    if draft.faults:
        name, text = next(iter(draft.faults.items()))
        return wrapped(f"{name}: {text}", width, "danger", " ! ", "   ")
    if draft.empty:
        return wrapped(HINT, width, "dim", " ", " ")
    return wrapped("; ".join(draft.understood), width, "good", " = ", "   ")
