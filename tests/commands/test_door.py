"""What a command says leaves by one door, and nothing that came from elsewhere can act behind it."""

import ast
import io
from pathlib import Path

import pytest
from ledger.hostile_strings import HOSTILE
from ledger.test_hostile import ACTING

import mustwatch
from mustwatch.commands import door

SOURCE = Path(mustwatch.__file__).parent
DOOR = "commands/door.py"
FILES = [path for path in sorted(SOURCE.rglob("*.py")) if str(path.relative_to(SOURCE)) != DOOR]
WAYS = {"print", "input", "print_exc", "print_exception", "print_help", "print_usage", "showwarning", "pprint"}
STREAMS = {"stdout", "stderr", "__stdout__", "__stderr__"}
USES = {"flush", "fileno", "isatty", "encoding"}


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_nobody_else_writes_to_a_stream(path):
    """One place that is forgotten is enough for a terminal to be taken over."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    called = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    assert not [name.id for name in called if isinstance(name, ast.Name) and name.id in WAYS]
    assert not [name.attr for name in called if isinstance(name, ast.Attribute) and name.attr in WAYS]
    of_streams = [
        node.attr for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Attribute) and node.value.attr in STREAMS
    ]  # fmt: skip
    assert set(of_streams) <= USES


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_a_line_is_one_line_and_cannot_act(text):
    """A line break of data would forge a line of its own."""
    stream = io.StringIO()
    door.say(f"{text} and on", stream)
    said = stream.getvalue()
    assert said.endswith("and on\n") and said.count("\n") == 1
    assert not ACTING.search(said.removesuffix("\n")) and "\n" not in said[:-1]


def test_what_is_safe_already_leaves_as_it_came():
    """The door costs no character of what is drawn already."""
    stream = io.StringIO()
    for text in ("", "21 °C → bouché 漢", "<1b>[2J", '{"a":"\\u001b"}'):
        door.say(text, stream)
    assert stream.getvalue().splitlines()[2:] == ["<1b>[2J", '{"a":"\\u001b"}']
    door.say_page("one\n  two\n", stream)
    assert stream.getvalue().endswith("\none\n  two\n")
