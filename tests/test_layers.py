"""One direction of dependency, proven from the imports themselves; and commands that never load the screens."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

SOURCE = Path(__file__).parent.parent / "src" / "mustwatch"
LAYERS = ("trade", "ledger", "entry", "cellar", "judgement", "said", "calculators", "rules", "deeds")
SHELLS = ("feeds", "screens", "commands")
HEIGHT = {name: height for height, name in enumerate(LAYERS)} | {name: len(LAYERS) + n for n, name in enumerate(SHELLS)}
MOST_METHODS = 25
FILES = sorted(SOURCE.rglob("*.py"))


def _module(path: Path) -> str:
    return ".".join(("mustwatch", *path.relative_to(SOURCE).with_suffix("").parts)).removesuffix(".__init__")


def _imported(path: Path) -> list[str]:
    package = ".".join(("mustwatch", *path.relative_to(SOURCE).parts[:-1]))
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [name.name for name in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package.rsplit(".", node.level - 1)[0] if node.level else ""
            module = ".".join(part for part in (base, node.module or "") if part)
            found += [module, *(f"{module}.{name.name}" for name in node.names)]
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_file_imports_only_from_layers_above_its_own(path: Path) -> None:
    """So that the core stays pure, and a rule can be read without knowing a screen."""
    layer = path.relative_to(SOURCE).parts[0]
    if layer not in HEIGHT:
        return
    for name in _imported(path):
        parts = name.split(".")
        if parts[0] != "mustwatch" or len(parts) < 2 or parts[1] not in HEIGHT:
            continue
        assert HEIGHT[parts[1]] <= HEIGHT[layer], f"{path.name} in {layer} imports {name}"


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_textual_is_imported_by_screens_only(path: Path) -> None:
    """A command must start fast over SSH, and run where no full screen can."""
    if path.relative_to(SOURCE).parts[0] != "screens":
        assert not any(name.split(".")[0] == "textual" for name in _imported(path))


def test_no_import_goes_in_a_circle() -> None:
    """Whatever is in a circle can be neither read nor tried alone; imports for types and inside functions count too."""
    modules = {_module(path): path for path in FILES}
    needs = {name: {one for one in _imported(path) if one in modules and one != name} for name, path in modules.items()}
    try:
        TopologicalSorter(needs).prepare()
    except CycleError as error:
        pytest.fail(" <- ".join(error.args[1]))


def test_no_class_outgrows_its_reader() -> None:
    """What it inherits from ours counts too: a chain of small classes makes one large object all the same."""
    classes = {
        node.name: node
        for path in FILES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
    }

    def methods(name: str) -> set[str]:
        node = classes[name]
        own = {part.name for part in node.body if isinstance(part, ast.FunctionDef | ast.AsyncFunctionDef)}
        bases = [base.id for base in node.bases if isinstance(base, ast.Name) and base.id in classes]
        return own.union(*(methods(base) for base in bases if base != name))

    sizes = {name: len(methods(name)) for name in classes}
    assert {name: size for name, size in sizes.items() if size > MOST_METHODS} == {}


@pytest.mark.parametrize("words", [["check"], ["show", "acacia-1"], ["log", "acacia-1", "1.040", "21C"], ["bench"]])
def test_commands_run_without_loading_textual_or_the_whole_of_pydantic(words: list[str]) -> None:
    """Proven in a process of its own: what is loaded there is what a user waits for."""
    code = (
        "import sys\nfrom mustwatch.__main__ import main\n"
        f"status = main(['--cellar', {str(SOURCE.parent.parent / 'sample_cellar')!r}, *{words!r}])\n"
        "heavy = {'textual', 'pydantic'} & {name.split('.')[0] for name in sys.modules}\n"
        "assert not heavy, f'loaded: {heavy}'\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60,
        env={**os.environ, "PYTHONPATH": str(SOURCE.parent)},
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    assert "Traceback" not in ran.stderr
