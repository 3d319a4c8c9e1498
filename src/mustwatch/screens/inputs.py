"""What is typed into, as all screens use it: one line of text, or one of a few words."""

from collections.abc import Sequence

from textual import events
from textual.message import Message
from textual.strip import Strip
from textual.widgets import Input

from mustwatch.screens.pane import Pane

LONGEST = 2000  # letters of one line


class EntryInput(Input):
    """One line of typing. The cursor does not blink: an idle screen writes nothing."""

    def __init__(self, text: str = "", *, id: str) -> None:
        super().__init__(text, id=id, compact=True, select_on_focus=False, max_length=LONGEST)
        self.cursor_blink = False

    def on_paste(self, event: events.Paste) -> None:
        """A pasted text of several lines becomes one line, nothing of it lost."""
        event.text = " ".join(event.text.split())


class Choice(Pane, can_focus=True):
    """One of a few words, or none: typing picks it from its first letter on, space and arrows go through them."""

    class Changed(Message):
        """Another word was picked."""

    class Submitted(Message):
        """Enter was pressed in the field."""

    def __init__(self, options: Sequence[str], *, id: str | None = None, value: str = "") -> None:
        super().__init__(id=id)
        self.options = tuple(options)
        self._value = value if value in self.options else ""
        self._typed = ""

    @property
    def value(self) -> str:
        """The word picked, or nothing."""
        return self._value

    @value.setter
    def value(self, word: str) -> None:
        word = word if word in self.options else ""
        if word != self._value:
            self._value = word
            self.refresh()
            self.post_message(self.Changed())

    def on_key(self, event: events.Key) -> None:
        """Letters pick, space and arrows go through, backspace empties."""
        if not (event.character and event.character.isprintable()) or event.key == "space":
            self._typed = ""
        if event.key == "enter":
            self.post_message(self.Submitted())
        elif event.key in ("space", "right", "left"):
            around = ("", *self.options)
            step = -1 if event.key == "left" else 1
            self.value = around[(around.index(self._value) + step) % len(around)]
        elif event.key in ("backspace", "delete"):
            self.value = ""
        elif event.character and event.character.isprintable():
            self._pick(event.character.lower())
        else:
            return
        event.stop()
        event.prevent_default()

    def on_blur(self) -> None:
        """Whoever comes back begins a word anew."""
        self._typed = ""

    def _pick(self, letter: str) -> None:
        """A word typed out is found letter by letter; a letter that does not go on with it begins another."""
        going_on = self._typed + letter
        if any(word.lower().startswith(going_on) for word in self.options):
            self._typed = going_on
            if not (len(going_on) > 1 and self._value.lower().startswith(going_on)):
                self._among([word for word in self.options if word.lower().startswith(going_on)])
            return
        self._typed = letter
        self._among([word for word in self.options if word.lower().startswith(letter)])

    def _among(self, found: Sequence[str]) -> None:
        if found:
            place = found.index(self._value) + 1 if self._value in found else 0
            self.value = found[place % len(found)]

    def on_click(self) -> None:
        """A click goes to the next word."""
        around = ("", *self.options)
        self.value = around[(around.index(self._value) + 1) % len(around)]

    def render_line(self, y: int) -> Strip:
        """The word, on an underlined field."""
        return self.drawn(((self._value.ljust(self.size.width), ""),), self.size.width)
