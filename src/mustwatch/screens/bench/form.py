"""The form of one calculation: as many lines to type in as it has inputs."""

from collections.abc import Mapping
from dataclasses import dataclass

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Container, Horizontal
from textual.events import DescendantFocus
from textual.message import Message
from textual.widgets import Input

from mustwatch.calculators.form import LONGEST_INPUT, Calculation, Field
from mustwatch.screens.ink import line, padded
from mustwatch.screens.inputs import EntryInput
from mustwatch.screens.pane import Pane

MOST_FIELDS = 16


class Cell(Horizontal):
    """A label and the line beside it."""

    field: Field | None = None

    def compose(self) -> ComposeResult:
        yield Pane(classes="label")
        entry = EntryInput(id="entry")
        entry.max_length = LONGEST_INPUT
        yield entry
        end = Pane(classes="end")
        end.show([line("]")])
        yield end

    def load(self, field: Field | None, text: str) -> None:
        """Takes on another field, or none."""
        self.field = field
        self.display = field is not None
        entry = self.query_one(Input)
        with entry.prevent(Input.Changed):
            entry.value = text
        if field is not None:
            self.query_one(".label", Pane).show(lambda width: [line(f"{padded(field.label, width - 1)}[")])
            entry.placeholder = field.default or (f"? {field.hint}" if field.required else "-")
            entry.cursor_position = len(text)


class BenchForm(Container):
    """The cells, and the keys that lead from one to the next."""

    BINDINGS = [
        Binding("down", "down(1)", show=False),
        Binding("up", "down(-1)", show=False),
        Binding("escape", "leave", show=False),
    ]

    _columns = 2

    @dataclass
    class Edited(Message):
        """Something was typed; the texts by the names of the inputs."""

        typed: Mapping[str, str]

    @dataclass
    class Entered(Message):
        """The cursor stands in another field."""

        field: Field

    @dataclass
    class Left(Message):
        """The user wants to leave the form."""

    def compose(self) -> ComposeResult:
        for _ in range(MOST_FIELDS):
            yield Cell()

    def load(self, chosen: Calculation, typed: Mapping[str, str]) -> None:
        """Takes on another calculation, with what was typed for it before."""
        cells = list(self.query(Cell))
        for number, cell in enumerate(cells):
            field = chosen.fields[number] if number < len(chosen.fields) else None
            cell.load(field, typed.get(field.name, "") if field else "")
        self._fit()

    def set_columns(self, columns: int) -> None:
        """How many fields stand beside each other."""
        self._columns = columns
        self._fit()

    def _fit(self) -> None:
        self.styles.height = max(1, -(-len(self.cells) // self._columns))

    @property
    def cells(self) -> list[Cell]:
        """The cells in use."""
        return [cell for cell in self.query(Cell) if cell.field is not None]

    def enter(self) -> None:
        """Puts the cursor into the first empty field that needs a value, else the first."""
        needed = [cell for cell in self.cells if cell.field and cell.field.required and not cell.query_one(Input).value]
        (needed or self.cells)[0].query_one(Input).focus()

    def action_down(self, rows: int) -> None:
        """Goes to the field below or above, as far as there is one."""
        self.action_step(rows * self._columns)

    def action_step(self, by: int) -> None:
        """Goes some fields on or back, as far as there are any."""
        cells = self.cells
        here = next((number for number, cell in enumerate(cells) if cell.query_one(Input).has_focus), None)
        if here is not None and 0 <= here + by < len(cells):
            cells[here + by].query_one(Input).focus()

    def action_leave(self) -> None:
        """Back to the list."""
        self.post_message(self.Left())

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        texts = {cell.field.name: cell.query_one(Input).value for cell in self.cells if cell.field}
        self.post_message(self.Edited({name: text for name, text in texts.items() if text.strip()}))

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        self.action_step(1)

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Tells which field the cursor stands in."""
        cell = event.widget.parent
        if isinstance(cell, Cell) and cell.field is not None:
            self.post_message(self.Entered(cell.field))
