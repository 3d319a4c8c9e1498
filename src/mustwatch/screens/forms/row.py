"""One line of a form: the label, what is typed, and beside it what would be right."""

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widget import Widget

from mustwatch.deeds.deed import Field
from mustwatch.ledger.settings import Settings
from mustwatch.screens.ink import padded
from mustwatch.screens.inputs import Choice, EntryInput
from mustwatch.screens.pane import Pane


class Row(Horizontal):
    """A field on its line."""

    def __init__(self, field: Field, text: str, settings: Settings) -> None:
        super().__init__(classes="row")
        self.field = field
        self.label = field.label_for(settings)
        self.entry: EntryInput | Choice
        if field.choices:
            self.entry = Choice(field.choices, id=f"form-{field.name}", value=text)
        else:
            self.entry = EntryInput(text, id=f"form-{field.name}")
        self.fault = ""

    def compose(self) -> ComposeResult:
        yield Pane(classes="label")
        yield self.entry
        yield Pane(classes="aside")

    def on_mount(self) -> None:
        """Draws the label and the help."""
        self._draw()

    def on_resize(self) -> None:
        """Cuts what stands beside the field to its new width."""
        self._draw()

    def show_fault(self, fault: str) -> None:
        """Says beside the field what is amiss with it; without a fault its help stands there."""
        if fault != self.fault:
            self.fault = fault
            self._draw()

    def _draw(self) -> None:
        label, aside = self.query(Pane).filter(".label, .aside")
        mark = "!" if self.fault else " "
        label.show(
            lambda width: [((f"{padded(f'{mark}{self.label}', width - 1)}[", "danger" if self.fault else "strong"),)]
        )
        role = "danger" if self.fault else ""
        aside.show(lambda width: [((f"] {padded(self.fault or self.field.hint, max(8, width - 2)).rstrip()}", role),)])


def row_of(widget: Widget | None) -> Row | None:
    """The row a widget stands in."""
    return next((node for node in widget.ancestors_with_self if isinstance(node, Row)), None) if widget else None
