"""`bench` as a user meets it: what is printed, what is refused, and how long it takes to start."""

import argparse
import json
import shlex
import subprocess
import sys
import time
from pathlib import Path

import pytest

from mustwatch.calculators.catalogue import NAMES, calculation
from mustwatch.commands import bench


class Listening:
    """A context that remembers what was said."""

    def __init__(self, cellar: Path = Path("nowhere")) -> None:
        self.cellar = cellar
        self.lines: list[str] = []
        self.errors: list[str] = []

    def out(self, text: str = "") -> None:
        self.lines.append(text)

    def err(self, text: str) -> None:
        self.errors.append(text)


def ran(*words, cellar=Path("nowhere")):
    parser = argparse.ArgumentParser()
    bench.add_to(parser.add_subparsers())
    context = Listening(cellar)
    status = (args := parser.parse_args(["bench", *words])).run(args, context)
    return status, context


def test_alone_it_lists_every_calculation():
    status, said = ran()
    assert status == 0
    assert [line.split()[0] for line in said.lines[:16]] == list(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_a_calculation_alone_explains_its_inputs(name):
    """Every input is named, with whether it is needed, within 80 columns."""
    status, said = ran(name)
    text = "\n".join(said.lines)
    assert status == 0
    assert all(f"{field.name}=" in text for field in calculation(name).fields if field.required)
    assert all(len(line) < 80 or "ingredients=" in line for line in said.lines)


def test_the_number_comes_first_and_its_caution_next():
    status, said = ran("honey", "volume=5 US gal", "target=1.100")
    assert status == 0
    assert said.lines[0].split() == ["honey", "5.97", "kg", "(13.2", "lb)"]
    first_caution = next(number for number, line in enumerate(said.lines) if line.startswith("! "))
    method = next(number for number, line in enumerate(said.lines) if line.startswith("method"))
    assert first_caution < method
    assert all(len(line) <= 80 and line.isascii() for line in said.lines)


def test_names_may_be_left_out_in_their_order():
    assert ran("strength", "1.110", "0.998")[1].lines == ran("strength", "present=0.998", "start=1.110")[1].lines
    assert ran("strength", "present=0.998", "1.110")[1].lines == ran("strength", "1.110", "0.998")[1].lines


def test_json_is_the_contract():
    status, said = ran("sulfite", "volume=3.785L", "ph=3.5", "--json")
    document = json.loads("\n".join(said.lines))
    assert status == 0
    assert list(document) == ["calc", "inputs", "result", "method", "source", "range", "cautions"]
    assert document["calc"] == "sulfite"
    assert document["inputs"]["ph"] == 3.5
    assert document["result"]["metabisulfite_g"] == pytest.approx(0.265, abs=0.003)


def test_the_list_and_the_inputs_are_had_as_json_too():
    assert [each["calc"] for each in json.loads(ran("--json")[1].lines[0])] == list(NAMES)
    inputs = json.loads(ran("prime", "--json")[1].lines[0])["inputs"]
    assert {"name", "kind", "key", "help", "needed", "default", "choices"} == set(inputs[0])


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("mash",), "no 'mash'; it has convert"),
        (("honey", "volume=5 gal", "target=1.1"), "US gal or imperial gal"),
        (("honey", "volume=5L"), "a target gravity or an alcohol"),
        (("honey", "size=5L"), "no input 'size'"),
        (("honey", "volume=5L", "volume=6L"), "volume is given twice"),
        (("strength", "1.1", "1.0", "1.0"), "too many inputs; it has start, present"),
        (("strength", "start=1.3", "present=1.0"), "start gravity must be 1 to 1.2"),
        (("sorbate", "19L", "9", "3.3"), "cannot be relied on below 10 % vol"),
        (("sulfite", "19L"), "no dose without it"),
    ],
)
def test_bad_use_is_one_clear_line_and_status_two(words, says):
    status, said = ran(*words)
    assert status == 2
    assert not said.lines
    assert len(said.errors) == 1 and says in said.errors[0]


def test_what_the_user_typed_is_made_safe_to_show():
    """A terminal must not act on an escape that comes back in a complaint."""
    status, said = ran("convert", "value=\x1b[2J")
    assert status == 2
    assert "\x1b" not in said.errors[0]


def test_the_cellar_settles_a_bare_gallon(tmp_path):
    (tmp_path / "cellar.toml").write_text('[cellar]\ngallon = "us"\n')
    status, said = ran("convert", "5 gal", cellar=tmp_path)
    assert status == 0
    assert "18.93 L" in said.lines[0]


def test_it_starts_without_pydantic_textual_or_the_ledger():
    """The bench must answer at once, over SSH on a small machine."""
    code = (
        "import sys\nfrom mustwatch.__main__ import main\n"
        "assert main(['bench', 'honey', 'volume=5 US gal', 'target=1.1']) == 0\n"
        "heavy = {'pydantic', 'textual', 'rich', 'numpy'} & {name.split('.')[0] for name in sys.modules}\n"
        "ours = {name for name in sys.modules if name.startswith('mustwatch.ledger.')}\n"
        "ours -= {f'mustwatch.ledger.{name}' for name in ('visible', 'settings', 'places')}\n"
        "assert not heavy and not ours, (heavy, ours)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr


def test_one_answer_takes_about_a_millisecond():
    """Sixteen forms answer while one types; the best of several runs, since the machine is shared."""
    for name in NAMES:
        chosen = calculation(name)
        typed = dict(word.split("=", 1) for word in shlex.split(chosen.example))
        best = min(_seconds(chosen, typed) for _ in range(8))
        assert best < 0.02, (name, best)


def _seconds(chosen, typed):
    start = time.perf_counter()
    chosen.answer(typed)
    return time.perf_counter() - start
