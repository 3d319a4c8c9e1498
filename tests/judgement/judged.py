"""What is judged of the batch of every rule's story: state, rest, proof, protection, alcohol and gas, figure by figure.

    python -m tests.judgement.judged      # writes tests/judgement/judged.txt again; read the difference first

It holds the judgements to what was agreed to, as `tests/rules/told.py` does what is said of them.
"""

from __future__ import annotations

import sys
from dataclasses import fields, is_dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    root = Path(__file__).parents[2]
    sys.path[:0] = [str(root / "src"), str(root / "tests")]

from rules.scenario import DAY_ZERO, Story, stories_of

from mustwatch.judgement.bottlings import at_bottlings
from mustwatch.judgement.gas import gas_in_bottles, gas_in_vessel
from mustwatch.rules.catalogue import RULES

RECORD = Path(__file__).with_name("judged.txt")


def record() -> str:
    """One block a story: a line for the verdict's figures, one for the vessel's gas, one a bottling."""
    lines = []
    for module in RULES:
        for story in stories_of(module.RULE.name):
            lines += [f"{module.RULE.name}/{story.sort}: {story.title}", *_judged(story)]
    return "\n".join(lines) + "\n"


def _judged(story: Story) -> list[str]:
    lines = []
    for tag, view in story.views().items():
        lines.append(f"  {tag} {view.batch.stage}: {_plain(view.verdict)}")
        if (gas := gas_in_vessel(view.batch)) is not None:
            lines.append(f"    gas {_plain(gas)}")
        for bottled in at_bottlings(view.batch):
            lines.append(f"    bottled {_plain(bottled)}")
            lines.append(f"    gas {_plain(gas_in_bottles(view.batch, bottled))}")
    return lines


def _plain(value: Any) -> str:
    names = [field.name for field in fields(value)] if is_dataclass(value) else getattr(value, "_fields", ())
    if names and not isinstance(value, type):
        if hasattr(value, "id"):
            return str(value.id)
        told = ((name, getattr(value, name)) for name in names)
        return "{" + ", ".join(f"{name} {_plain(own)}" for name, own in told if own not in (None, (), "", False)) + "}"
    if isinstance(value, float):
        return f"{value:.5g}"
    if isinstance(value, datetime):
        return f"day {(value - DAY_ZERO) / timedelta(days=1):.3f}"
    if isinstance(value, tuple):
        return "(" + ", ".join(_plain(part) for part in value) + ")"
    return str(getattr(value, "id", value))


if __name__ == "__main__":
    RECORD.write_text(record(), encoding="utf-8")
