"""One voice: what `said` can say, no other module says by itself."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "mustwatch"
# These stand above `said` and cannot ask it: they refuse figures in one line each, and name files by the time.
# One says a quantity in every unit, the other how much to weigh out, to what a kitchen scale can show.
EXEMPT = ("convert.py", "shown.py")
ABOVE = ("trade", "ledger", "entry", "cellar", "judgement")
FILES = sorted(
    path
    for path in SOURCE.rglob("*.py")
    if path.relative_to(SOURCE).parts[0] not in ("said", *ABOVE) and path.name not in EXEMPT
)
UNIT = re.compile(r" ?°| (?:[LlCF](?![\w'])|m[Ll]\b|k?g(?![\w/]))")
AGE = re.compile(r" ?(?:[dwhy](?!\w)|(?:hour|day|week|month|year)s? ago)|.* ago\b")
DATE = re.compile(r"%[aAbBdeHIjmMpyY]")


def _own_words(source: str) -> Iterator[tuple[int, str]]:
    """(line, what) of each date, age, gravity, temperature, volume or mass that a source formats by itself."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "strftime":
            yield node.lineno, "strftime"
        if not isinstance(node, ast.JoinedStr):
            continue
        for place, part in enumerate(node.values):
            if isinstance(part, ast.FormattedValue) and part.format_spec is not None:
                spec = ast.unparse(part.format_spec)
                if DATE.search(spec) or re.search(r"\.[34]f", spec):
                    yield node.lineno, spec
            after = place and isinstance(node.values[place - 1], ast.FormattedValue)
            if after and isinstance(part, ast.Constant) and (UNIT.match(part.value) or AGE.match(part.value)):
                yield node.lineno, part.value


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_no_other_module_formats_a_date_an_age_or_a_figure_with_its_unit(path: Path) -> None:
    """Two ways to write a figure look like two figures, and drift apart."""
    assert [*_own_words(path.read_text(encoding="utf-8"))] == []


@pytest.mark.parametrize(
    "line",
    ['f"{at:%d %b}"', 'at.strftime("%Y")', 'f"{sg:.3f}"', 'f"{x:.1f} °C"', 'f"{x:g} C"', 'f"{v} l"', 'f"{v:.0f} ml"',
     'f"{m:g} g"', 'f"{m:g} kg of"', 'f"{n}d"', 'f"{n} days ago"', 'f"read {age} ago"'],
)  # fmt: skip
def test_each_way_of_formatting_by_oneself_is_found(line: str) -> None:
    """The test above can fail."""
    assert [*_own_words(line)]


@pytest.mark.parametrize(
    "line", ['f"{n} liquid"', 'f"{n} days"', 'f"{x:.1f} bar"', 'f"{rate:g} CO2"', 'f"{n} From"', 'f"{x:g} g/L"']
)
def test_other_words_behind_a_figure_are_left_alone(line: str) -> None:
    """It must not forbid what is no doubling."""
    assert not [*_own_words(line)]
