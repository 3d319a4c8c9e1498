"""The bench's screen: calculations on the left, the form and its live result on the right."""

from collections.abc import Sequence
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.events import DescendantBlur, DescendantFocus, Resize
from textual.screen import Screen

from mustwatch.calculators.catalogue import NAMES, calculation
from mustwatch.calculators.form import Calculation, Field, Result, house_of
from mustwatch.screens.bench.calc_list import CalcList
from mustwatch.screens.bench.form import BenchForm
from mustwatch.screens.ink import Line, labelled, line, padded, wrapped
from mustwatch.screens.pane import Pane
from mustwatch.screens.round.keys import foot_within

LIST_FOOT = "enter fill in  F1 keys  up/down choose  PgUp/PgDn result  esc round"
FORM_FOOT = "tab next field  F1 keys  PgUp/PgDn result  ctrl+l empty  esc list"
NARROW = 70  # cells; below it two fields beside each other leave no room to type in
LABEL_WIDTH = 22


class BenchScreen(Screen[None]):
    """Every calculation of the trade; nothing here is written anywhere."""

    CSS_PATH = "bench.tcss"
    BINDINGS = [
        Binding("pagedown", "scroll_result(1)", show=False, priority=True),
        Binding("pageup", "scroll_result(-1)", show=False, priority=True),
        Binding("ctrl+l,ctrl+n", "clear", show=False, priority=True),
        Binding("escape,q", "leave", show=False),
    ]

    def __init__(self, settings: Any = None) -> None:
        super().__init__()
        self.house = house_of(settings)
        self.typed: dict[str, dict[str, str]] = {}
        self.calculation: Calculation = calculation(NAMES[0])

    def compose(self) -> ComposeResult:
        yield Pane(id="bench-top")
        with Horizontal(id="bench-middle"):
            yield CalcList(NAMES, id="calcs")
            with Vertical(id="bench-right"):
                yield BenchForm(id="bench-form")
                yield Pane(id="bench-help")
                yield Pane(id="bench-result", more_hint="PgDn")
        yield Pane(id="bench-foot")

    def on_mount(self) -> None:
        """Shows the first calculation."""
        self.query_one(CalcList).focus()
        self.take_up(NAMES[0])

    def on_resize(self, event: Resize) -> None:
        """Puts fields beside each other where there is room."""
        self.set_class(event.size.width < NARROW, "-narrow")
        self.query_one(BenchForm).set_columns(1 if event.size.width < NARROW else 2)

    def take_up(self, name: str) -> None:
        """Shows the form of another calculation, with what was typed in it before."""
        self.calculation = calculation(name)
        self.query_one("#bench-top", Pane).show([((f" {name}  ", "strong"), (self.calculation.purpose, "dim"))])
        self.query_one(BenchForm).load(self.calculation, self.typed.get(name, {}))
        self._say("")
        self.draw_result(top=0)

    def draw_result(self, top: int | None = None) -> None:
        """The result of what is typed, or what is still wanting, under the form."""
        self.query_one("#bench-result", Pane).show(lambda width: self._lines(max(20, width - 1)), top=top)

    def _lines(self, width: int) -> list[Line]:
        typed = self.typed.get(self.calculation.name, {})
        wanting = [field for field in self.calculation.fields if field.required and field.name not in typed]
        if wanting:
            return _about(self.calculation, wanting, width)
        try:
            result = self.calculation.answer(typed, self.house)
        except ValueError as error:
            return wrapped(str(error), width, "watch")
        return _shown(result, width)

    def _say(self, text: str) -> None:
        self.query_one("#bench-help", Pane).show(lambda width: [((padded(text, width).rstrip(), "dim"),)])

    def action_scroll_result(self, pages: int) -> None:
        """Moves over the result."""
        self.query_one("#bench-result", Pane).scroll_pages(pages)

    def action_clear(self) -> None:
        """Empties the form."""
        self.typed.pop(self.calculation.name, None)
        self.query_one(BenchForm).load(self.calculation, {})
        self.draw_result(top=0)

    def action_leave(self) -> None:
        """Back to where one came from."""
        self.app.pop_screen()

    @on(CalcList.Moved)
    def _moved(self, message: CalcList.Moved) -> None:
        self.take_up(message.name)

    @on(CalcList.Chosen)
    def _chosen(self) -> None:
        self.query_one(BenchForm).enter()

    @on(BenchForm.Left)
    def _left(self) -> None:
        self.query_one(CalcList).focus()
        self._say("")

    @on(BenchForm.Entered)
    def _entered(self, message: BenchForm.Entered) -> None:
        self._say(_help_of(message.field))

    @on(BenchForm.Edited)
    def _edited(self, message: BenchForm.Edited) -> None:
        self.typed[self.calculation.name] = dict(message.typed)
        self.draw_result(top=0)

    @on(DescendantFocus)
    @on(DescendantBlur)
    def _draw_foot(self) -> None:
        text = LIST_FOOT if self.query_one(CalcList).has_focus else FORM_FOOT
        self.query_one("#bench-foot", Pane).show(lambda width: [((f" {foot_within(text, width - 1)}", "dim"),)])


def _help_of(field: Field) -> str:
    if field.choices:
        return ", ".join(field.choices)
    unit = f", {field.unit}" if field.unit else ""
    return f"{field.help}{unit}, as {field.hint}"


def _shown(result: Result, width: int) -> list[Line]:
    """Dangers first, then the numbers, the other cautions, and how it was reckoned."""
    dangers = [text for text in result.cautions if text.startswith("DANGER")]
    lines: list[Line] = []
    for caution in dangers:
        lines += wrapped(caution, width, "danger", "! ", "  ")
    for label, text in result.lines:
        lines += labelled(label, text, width, "strong", LABEL_WIDTH)
    for caution in result.cautions:
        if caution not in dangers:
            lines += wrapped(caution, width, "watch", "! ", "  ")
    lines.append(line(""))
    for label, text in (("method", result.method), ("range", result.range), ("source", result.source)):
        lines += labelled(label, text, width, "dim", 8)
    return lines


def _about(chosen: Calculation, wanting: Sequence[Field], width: int) -> list[Line]:
    """What the form still wants before it can answer, and how it will be reckoned."""
    lines = wrapped("wants " + ", ".join(field.label for field in wanting), width)
    lines.append(line(""))
    for label, text in (("method", chosen.method), ("range", chosen.range), ("source", chosen.source)):
        lines += labelled(label, text, width, "dim", 8)
    return lines
