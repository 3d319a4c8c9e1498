"""No command lets a string act on the terminal, wherever a user or a file can put one. Read on a real terminal."""

import json
import os
import pty
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from zlib import crc32

import pytest
from acting.cellar import acting_cellar
from acting.strings import STRINGS, acting, decoded, filed, texts

import mustwatch

pytestmark = pytest.mark.timeout(900)
NOW = datetime.now(UTC)
# Each command line of the file in turn, all in one process: it is the bytes that count.
CHILD = """
import json, sys
from mustwatch.__main__ import main
for words in json.load(open(sys.argv[1])):
    try:
        main(words)
    except SystemExit:
        pass
"""


@pytest.fixture(scope="module")
def cellar(tmp_path_factory) -> Path:
    """The cellar of all texts, read and never written to."""
    return acting_cellar(tmp_path_factory.mktemp("acting") / "cellar", texts(), NOW)


def told(lines: list[list[str]], folder: Path, *, typed: bytes = b"") -> str:
    """What a terminal gets of these command lines; it must all be UTF-8, and no fault of the program among it."""
    (folder / "lines.json").write_text(json.dumps(lines))
    own = {f"XDG_{name}_HOME": str(folder / name.lower()) for name in ("STATE", "CACHE", "DATA", "CONFIG")}
    environ = {"PATH": os.environ["PATH"], "HOME": str(folder), "TERM": "xterm", "LC_ALL": "C.UTF-8", **own}
    environ["PYTHONPATH"] = str(Path(mustwatch.__file__).parents[1])
    leader, follower = pty.openpty()
    command = [sys.executable, "-c", CHILD, str(folder / "lines.json")]
    running = subprocess.Popen(
        command, stdin=follower, stdout=follower, stderr=follower, env=environ, cwd=folder, start_new_session=True
    )
    os.close(follower)
    if typed:
        os.write(leader, typed)
    seen = b""
    try:
        while block := os.read(leader, 65536):
            seen += block
    except OSError:  # Linux tells the end of a terminal so
        pass
    os.close(leader)
    assert running.wait(30) == 0
    text = decoded(seen).replace("\r\n", "\n")
    assert "a fault of the program" not in text and "Traceback" not in text, text[-2000:]
    return text


def named(letter: str, text: str) -> str:
    """A tag of its own for a text."""
    return f"{letter}{crc32(text.encode('utf-8', 'surrogatepass'))}"


PLAIN = {
    "check": [["check"]], "check as JSON": [["check", "--json"]], "outlook": [["outlook"]], "events": [["events"]],
    "verify": [["verify"]], "verify as JSON": [["verify", "--json"]], "repair": [["repair", "--all"]],
    "list": [["list", "--all"]], "ahead": [["ahead"]], "ahead as JSON": [["ahead", "--days", "90", "--json"]],
    "shelf": [["shelf", "--all"]], "shelf as JSON": [["shelf", "--json"]], "find": [["find", "e"]],
    "export": [["export", what, *more] for what in ("readings", "events", "shelf") for more in ([], ["--json"])],
    "rules": [["rules"]], "accept": [["verify", "--accept"]],
}  # fmt: skip


@pytest.mark.parametrize("lines", PLAIN.values(), ids=PLAIN)
def test_a_command_that_tells_of_the_whole_cellar(cellar, tmp_path, lines):
    """Its strings came from whoever shares the folder."""
    said = told([["--cellar", str(cellar), *words] for words in lines], tmp_path, typed=b"n\n" * 200)
    assert acting(said.replace("\n", "")) == []
    assert len(said) > 60


ABOUT_ONE = {
    "show": lambda text: ["show", text], "show with ids": lambda text: ["show", text, "--ids"],
    "show as JSON": lambda text: ["show", text, "--json"], "outlook": lambda text: ["outlook", text],
    "undo": lambda text: ["undo", text], "report": lambda text: ["report", text], "label": lambda text: ["label", text],
    "compare": lambda text: ["compare", text, "quiet-1"], "show plain": lambda text: ["show", text, "--plain"],
}  # fmt: skip


@pytest.mark.parametrize("line", ABOUT_ONE.values(), ids=ABOUT_ONE)
def test_a_command_about_one_batch(cellar, tmp_path, line):
    """Its tag is a string like any other."""
    said = told([["--cellar", str(cellar), *line(text)] for text in STRINGS.values()], tmp_path)
    assert acting(said.replace("\n", "")) == []


GIVEN = {
    "no command": lambda text: [text],
    "no option": lambda text: ["check", text, f"--{text}"],
    "time": lambda text: ["--now", text, "check"],
    "cellar": lambda text: ["--cellar", text, "check"],
    "tag": lambda text: ["log", text, "swirled"],
    "new tag": lambda text: ["begin", text, "--honey", "1 kg honey"],
    "vessel and note": lambda text: ["begin", named("b", text), "--honey", f"1 kg {text}",
                                     "--vessel", f"{text} 5 l", "--note", text, "--at", text],
    "honey": lambda text: ["begin", named("c", text), "--honey", f"1 kg {text}", "--volume", "3 l",
                           "--vessel", f"{text} 5 l", "--note", text],
    "entry": lambda text: ["log", "quiet-1", text],
    "quoted entry": lambda text: ["log", "quiet-1", "1.050", "20C", f'"{text}"', f"smell:{text}"],
    "note": lambda text: ["note", "quiet-1", text],
    "amount": lambda text: ["add", "quiet-1", text],
    "substance": lambda text: ["add", "quiet-1", f"3 g {text}"],
    "yeast": lambda text: ["pitch", "quiet-1", "--class", text],
    "label": lambda text: ["pitch", "quiet-1", "--class", "ale", "--label", text, "--range", text],
    "closure": lambda text: ["close", "quiet-1", text],
    "vessel": lambda text: ["rack", "quiet-1", "--vessel", f"{text} 5 l"],
    "place": lambda text: ["move", "quiet-1", text],
    "lots": lambda text: ["bottle", "quiet-1", text],
    "taste": lambda text: ["taste", "quiet-1", "--look", text, "--score", text],
    "instrument": lambda text: ["instrument", text, "--what", text],
    "hush": lambda text: ["hush", "quiet-1", text, "--until", text],
    "taken": lambda text: ["take", "quiet-1", text],
    "ended": lambda text: ["end", "quiet-1", text],
    "fix": lambda text: ["fix", text, f"{text}={text}"],
    "undo": lambda text: ["undo", text],
    "bench": lambda text: ["bench", text],
    "bench input": lambda text: ["bench", "convert", text, f"{text}=3", f"value={text}"],
    "explain": lambda text: ["explain", text],
    "events": lambda text: ["events", "--kind", text, "--batch", text],
    "drop": lambda text: ["repair", "--drop", f"{text}:3"],
    "import": lambda text: ["import", text, "--as", text],
    "find": lambda text: ["find", text], "export": lambda text: ["export", text, "--csv", text],
    "ahead": lambda text: ["ahead", "--days", text], "report": lambda text: ["report", "quiet-1", "--html", text],
    "calendar": lambda text: ["ahead", "--ical", text], "compare": lambda text: ["compare", text, text],
}  # fmt: skip


@pytest.mark.parametrize("line", GIVEN.values(), ids=GIVEN)
def test_a_word_that_is_given_to_a_command(tmp_path, line):
    """Refusals quote, answers echo: both leave by the same door."""
    home = acting_cellar(tmp_path / "cellar", [], NOW)
    some = [text for text in texts() if "\0" not in text]
    said = told([["--cellar", str(home), *line(text)] for text in some], tmp_path)
    assert acting(said.replace("\n", "")) == []
    assert len(said) > 60


def test_what_stands_in_files_and_what_they_are_called(tmp_path):
    """Settings, sheets, JSON lines, and the folders of cellars, copies and units."""
    lines = []
    for number, text in enumerate(texts()):
        folder = tmp_path / f"{number}" / filed(text)
        home = acting_cellar(folder / "cellar", [], NOW)
        quoted = json.dumps("".join(sign for sign in text if not "\ud800" <= sign <= "\udfff"))
        settings = (f"[cellar]\nname = {quoted}\n", f"[cellar]\n{quoted} = 1\n", f"[cellar]\ngallon = {quoted}\n",
                    f"[places.{quoted}]\nm3 = 20\n", f"[thresholds.{quoted}]\n{quoted} = 3\n", f"name = {text}\n",
                    f"[feeds.probes.{quoted}]\nsource = {quoted}\nid = {quoted}\nbatch = {quoted}\n",
                    f"[library.yeasts.{quoted}]\n{quoted} = 1\n", f"[feeds.notify]\nurls = [{quoted}]\n")  # fmt: skip
        (home / "cellar.toml").write_bytes(settings[number % len(settings)].encode("utf-8", "replace"))
        sheet, own = folder / f"{filed(text)}.csv", folder / "own.jsonl"
        cell = text.replace('"', '""')
        rows = f'date,gravity,batch,note,"{cell}"\n"{cell}","{cell}","{cell}","{cell}",3\n'
        sheet.write_bytes(rows.encode("utf-8", "replace"))
        own.write_bytes(json.dumps({"kind": text, "batch": text, "at": text, text: text}).encode() + b"\n")
        start, init = ["--cellar", str(home)], ["--cellar", str(folder / "new"), "init"]
        lines += [[*start, "check"], [*start, "listen", "--once"], [*start, "import", str(sheet)],
                  [*start, "import", str(sheet), "--dry-run", "--batch", "quiet-1"], [*start, "import", str(own)],
                  [*start, "verify"], init, init,
                  [*start, "backup", str(folder / "copy")], [*start, "listen", "--unit", "user", "--to", str(folder)],
                  [*start, "check", "--send"]]  # fmt: skip
    said = told(lines, tmp_path)
    assert acting(said.replace("\n", "")) == []
