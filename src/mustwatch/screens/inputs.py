"""What is typed into, as all screens use it: one line of text, or one of a few words."""

import re
import unicodedata
from collections.abc import Sequence

from rich.cells import cell_len
from rich.text import Text
from textual import events
from textual.message import Message
from textual.strip import Strip
from textual.widgets import Input

from mustwatch.ledger.visible import MARKS_KEPT, visible
from mustwatch.screens.pane import Pane

NO_TEXT = re.compile(r"[\x00-\x20\x7f-\x9f\u2028\u2029]+")
LONGEST = 2000  # letters of one line


class EntryInput(Input):
    """One line of typing. The cursor does not blink: an idle screen writes nothing.

    `value` is what was typed, pasted or found in a file, sign for sign; what is drawn of it cannot act.
    """

    def __init__(self, text: str = "", *, id: str) -> None:
        super().__init__(text, id=id, compact=True, select_on_focus=False, max_length=LONGEST)
        self.cursor_blink = False

    def on_paste(self, event: events.Paste) -> None:
        """A pasted text of several lines becomes one line; of its signs only those are lost that no text has."""
        event.text = " ".join(NO_TEXT.sub(" ", event.text).split())

    def validate_placeholder(self, text: str) -> str:
        """What stands in the empty field, made safe to show."""
        return visible(text)

    def render_line(self, y: int) -> Strip:
        """The line. textual 8.2.8 breaks what stands in an empty field into lines where the field is too short."""
        drawn = super().render_line(y)
        if "\n" not in drawn.text:
            return drawn
        return Strip([part for part in drawn if part.text != "\n"]).crop(0, self.size.width)

    @property
    def _value(self) -> Text:
        # As textual 8.2.8 draws it, which is as it was typed.
        return Text(self._drawn(self.value), no_wrap=True, overflow="ignore", end="")

    def _position_to_cell(self, position: int) -> int:
        return cell_len(self._drawn(self.value[:position]))

    def _cell_offset_to_index(self, offset: int) -> int:
        offset += self.scroll_offset.x
        places = range(len(self.value))
        return next((place for place in places if self._position_to_cell(place + 1) > offset), len(self.value))

    def _drawn(self, text: str) -> str:
        return sign_for_sign(text, "?" if getattr(self.app, "ascii_only", False) else "\ufffd")


def sign_for_sign(text: str, instead: str) -> str:
    """The text with as many signs as before, those that are unseen or could act drawn as `instead`.

    >>> sign_for_sign("a\\x1b\\u202e\\u00a0b", "?")
    'a?? b'
    """
    if text.isascii() and text.isprintable():
        return text
    shown: list[str] = []
    marks = MARKS_KEPT  # one at the beginning has nothing to stand on
    for char in text:
        is_mark = unicodedata.category(char) in ("Mn", "Me")
        marks = marks + 1 if is_mark else 0
        drawn = char if is_mark and marks <= MARKS_KEPT and visible(f"a{char}") == f"a{char}" else visible(char)
        shown.append(drawn if len(drawn) == 1 else instead)
        if shown[-1] != drawn:
            marks = MARKS_KEPT
    return "".join(shown)


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
