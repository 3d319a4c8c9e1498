"""`compare TAG TAG`: recipe, course and outcome of two batches beside each other."""

from __future__ import annotations

import argparse
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context
from mustwatch.commands.parser import lowered

if TYPE_CHECKING:
    from collections.abc import Sequence

    from mustwatch.judgement.profile import Profile
    from mustwatch.ledger.settings import Settings
    from mustwatch.said.comparison import Fact

LABEL, COLUMN = 15, 31  # cells; with two blanks between they make 79
NOT_RECORDED = "-"


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "compare",
        help="two batches beside each other",
        description="Recipe, course and outcome of two batches beside each other, and both courses in one chart.",
        allow_abbrev=False,
    )
    parser.add_argument("first", metavar="TAG", type=lowered)
    parser.add_argument("second", metavar="TAG", type=lowered)
    parser.add_argument("--plain", action="store_true", help="the readings as lines, in place of the chart")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the comparison."""
    from mustwatch.commands.saving import batch_named
    from mustwatch.judgement.profile import profile_of
    from mustwatch.ledger.visible import plain_json
    from mustwatch.said.comparison import facts_of

    cellar = context.cellar_view()
    batches = [batch_named(cellar, tag) for tag in (args.first, args.second)]
    first, second = (profile_of(batch, cellar.settings, cellar.now) for batch in batches)
    facts = facts_of(first, cellar.settings), facts_of(second, cellar.settings)
    if args.json:
        context.out(plain_json(document(first, second, *facts)))
        return DONE
    for line in as_text(first, second, *facts, cellar.settings, plain=args.plain):
        context.out(line)
    return DONE


def document(first: Profile, second: Profile, one: Sequence[Fact], other: Sequence[Fact]) -> dict[str, Any]:
    """The comparison as one JSON document, metric."""
    from mustwatch.said.comparison import differs

    pairs = [{"what": a.key, "a": a.value, "b": b.value} for a, b in differs(one, other)]
    return {"a": as_keys(first, one), "b": as_keys(second, other), "differs": pairs}


def as_keys(profile: Profile, facts: Sequence[Fact]) -> dict[str, Any]:
    """One batch as stable keys: its tag and name, then recipe, course and outcome."""
    parts: dict[str, dict[str, Any]] = {"recipe": {}, "course": {}, "outcome": {}}
    for fact in facts:
        parts[fact.part][fact.key] = fact.value
    parts["course"]["readings"] = [{"day": day, "sg": round(sg, 5)} for day, sg in profile.readings]
    return {"batch": profile.batch, "name": profile.name, **parts}


def as_text(
    first: Profile, second: Profile, one: Sequence[Fact], other: Sequence[Fact], settings: Settings, *, plain: bool
) -> list[str]:
    """The comparison in lines of at most 79 columns."""
    from mustwatch.ledger.visible import visible

    lines = _beside("", f"a: {visible(first.batch)}", f"b: {visible(second.batch)}")
    part = ""
    for a, b in zip(one, other, strict=True):
        if not (a.words or b.words):
            continue
        if a.part != part:
            lines += ["", a.part]
            part = a.part
        lines += _beside(a.what, visible(a.words) or NOT_RECORDED, visible(b.words) or NOT_RECORDED)
    return [*lines, *(_readings if plain else _chart)(first, second, settings)]


def _chart(first: Profile, second: Profile, settings: Settings) -> list[str]:
    from mustwatch.said.comparison import chart

    drawn = chart(first.readings, second.readings, settings)
    return ["", "gravity by days from the pitching", *drawn] if drawn else []


def _readings(first: Profile, second: Profile, settings: Settings) -> list[str]:
    from mustwatch.ledger.visible import visible
    from mustwatch.said.figures import gravity

    lines: list[str] = []
    for profile in (first, second):
        lines += ["", f"readings of {visible(profile.batch)}, by days from the pitching"]
        lines += [f"  day {round(day)}: {gravity(sg, settings)}" for day, sg in profile.readings] or ["  none"]
    return lines


def _beside(label: str, first: str, second: str) -> list[str]:
    """The lines of one fact: its label, and the words of both beside each other."""
    left, right = wrap(first, COLUMN) or [""], wrap(second, COLUMN) or [""]
    rows = max(len(left), len(right))
    left += [""] * (rows - len(left))
    right += [""] * (rows - len(right))
    labels = [label, *[""] * (rows - 1)]
    pairs = zip(labels, left, right, strict=True)
    return [f"{name:<{LABEL}} {a:<{COLUMN}} {b}".rstrip() for name, a, b in pairs]
