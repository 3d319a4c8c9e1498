"""No screen, form or field lets a string act on the terminal, wherever it came from. Read on a real terminal."""

import json
import re
from datetime import UTC, datetime

import pytest
from acting.cellar import acting_cellar
from acting.strings import DRAWING, KINDS, STRINGS, acting, decoded, texts
from screens.pseudo_terminal import Terminal, environment

pytestmark = pytest.mark.timeout(900)  # a walk takes its time on a busy machine
NOW = datetime.now(UTC)
ESCAPE, DOWN, NEXT, ENTER, TAB, EMPTY = b"\x1b[27u", b"\x1b[B", b"\x1b[6~", b"\r", b"\t", b"\x0c"
ONE_OF_EACH = [text for name, text in {**STRINGS, **KINDS}.items() if name.endswith(("-01", "-0"))]
UNSENT = ("gravity", "sample", "must", "note", "when", "scale", "airlock", "surface")

TAKEN = re.compile(rb"\x1b\[\?2004h(?:\x1b\[\?\d+[hl])+")  # the last of what takes the terminal, before the first frame


class Walk:
    """A walk through the round; what is drawn on it is held to what may be drawn."""

    def __init__(self, tmp_path, some: list[str], *, size=(40, 120), unsent: bool = False, **more: str) -> None:
        cellar = acting_cellar(tmp_path / "cellar", some, NOW)
        if unsent:
            state = tmp_path / "state" / "mustwatch"
            state.mkdir(parents=True)
            drafts = {text: dict.fromkeys((*UNSENT, text), text) for text in some}
            drafts |= {"quiet-1": drafts[some[0]], "quiet-2": drafts[some[-1]]}
            (state / "unsent.json").write_text(json.dumps({str(cellar): drafts}))
        self.terminal = Terminal(cellar, environment(tmp_path, **more), size=size)
        self.terminal.settle()

    def keys(self, *keys: bytes, seconds: float = 0.25) -> None:
        """Sends keys one after the other."""
        for key in keys:
            self.terminal.send(key, seconds)

    def done(self) -> str:
        """Everything that was drawn, which nothing acting is among; ends the walk."""
        self.terminal.read_for(1.0)
        taken = TAKEN.search(self.terminal.written)
        seen, alive = decoded(self.terminal.written[taken.end() :]), self.terminal.waiting() is None
        self.terminal.close()
        assert alive, seen.partition("^[[27u")[0][-800:]
        drawn = DRAWING.sub("", seen).replace("\r\n", "\n")
        assert acting(drawn.replace("\n", "")) == [], re.findall(r".{30}[\x00-\x1f\x7f-\x9f].{30}", drawn)[:3]
        for text in STRINGS.values():
            for found in re.finditer("\x1b", text):
                # A colour of the data would pass for one of the round's own.
                piece = text[found.start() : found.start() + 12]
                assert len(piece) < 6 or piece not in seen, repr(piece)
        return drawn


@pytest.fixture
def walk(tmp_path):
    """Begins a walk; ends what is left of it."""
    begun: list[Walk] = []

    def begin(some: list[str], **more) -> Walk:
        begun.append(Walk(tmp_path, some, **more))
        return begun[-1]

    yield begin
    for one in begun:
        one.terminal.close()


@pytest.mark.parametrize("ascii_only", ["", "1"], ids=["any signs", "ASCII alone"])
def test_every_batch_with_all_that_is_told_of_it(walk, ascii_only):
    """The list, the pane with its findings and the whole story, page by page."""
    some = texts()
    one = walk(some, MUSTWATCH_ASCII=ascii_only)
    for _ in range(len(some) + 3):
        one.keys(NEXT, NEXT, NEXT, DOWN, seconds=0.04)
    drawn = one.done()
    assert len(drawn) > 20_000 and (not ascii_only or drawn.isascii())


def test_every_page_question_and_form_of_batches_full_of_it(walk):
    """Forms are filled with what is known of the batch; questions and pages name it."""
    some = ONE_OF_EACH[::2]
    one = walk(some)
    for _ in range(len(some) + 3):
        for key in b"yimfxdechu/":
            one.keys(bytes([key]), seconds=0.08)
            one.keys(NEXT, ESCAPE, ESCAPE, seconds=0.04)
        one.keys(b"?", NEXT, ESCAPE, b"=", DOWN, ENTER, ESCAPE, ESCAPE, b"v", DOWN, seconds=0.05)
    assert len(one.done()) > 20_000


def test_what_was_typed_and_not_saved_last_time(walk):
    """A file of local state is a file."""
    some = [text for text in texts() if len(text) < 60]
    one = walk(some, unsent=True)
    for _ in range(len(some)):
        one.keys(DOWN, seconds=0.05)
    assert "still here" in one.done()


PASTED_INTO = {
    "the gravity": [b"r"], "the note": [b"n"], "the time": [b"n", TAB], "the filter": [b"/"], "a form": [b"i"],
    "another field of a form": [b"i", TAB, TAB], "the bench": [b"=", ENTER], "a word to pick": [b"r", TAB],
    "the list": [], "the hush": [b"h"],
}  # fmt: skip

WHOLLY = ("the note", "a form")


@pytest.mark.parametrize("place", PASTED_INTO)
def test_what_is_pasted(walk, place):
    """Into every kind of field, and said back under it: all of it into two, into each other a fifth of its own."""
    one, number = walk([]), list(PASTED_INTO).index(place)
    one.keys(*PASTED_INTO[place])
    for text in texts() if place in WHOLLY else texts()[number % 5 :: 5]:
        data = text.replace("\x1b[201~", "").encode("utf-8", "replace")
        one.keys(b"\x1b[200~" + data + b"\x1b[201~", b"\x15", seconds=0.03)
    one.done()


def test_settings_and_what_is_wrong_with_them(walk, tmp_path):
    """The name of a cellar stands in the top line, and so does what is amiss."""
    one = walk([])
    settings = tmp_path / "cellar" / "cellar.toml"
    for text in ONE_OF_EACH:
        quoted = json.dumps("".join(sign for sign in text if not "\ud800" <= sign <= "\udfff"))
        for line in (f"[cellar]\nname = {quoted}\n", f"[cellar]\n{quoted} = 1\n", f"name = {text}\n"):
            settings.write_bytes(line.encode("utf-8", "replace"))
            one.keys(b"o", seconds=0.2)
    one.done()
