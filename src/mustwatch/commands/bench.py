"""`bench`: one calculation of the trade, its caution beside the number."""

from __future__ import annotations

import argparse
import re
import textwrap
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from mustwatch.calculators.catalogue import NAMES, calculation, calculations
from mustwatch.calculators.purposes import PURPOSES
from mustwatch.ledger.visible import plain_json, visible

if TYPE_CHECKING:
    from mustwatch.calculators.form import Calculation, Field, House, Result
    from mustwatch.commands.context import Context

WIDTH = 78
LABEL = 22
HOUSE_CALCS = ("must", "correct")
GALLONS = re.compile(r"gal|quart|qt|pint|pt|oz|ounce", re.IGNORECASE)
HELP = """Without CALC all calculations are listed; with CALC alone its inputs are explained.
Quantities are written with their unit: 5 US gal, 4.5 L, 3 lb, 21C, 70F, 1.050, 12Bx.
Inputs may be given without their name, in the order CALC alone lists them."""


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "bench",
        help="one calculation of the trade",
        description="One calculation of the trade: " + ", ".join(NAMES) + ".",
        epilog=HELP,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("calc", nargs="?", metavar="CALC", help="which calculation")
    parser.add_argument("given", nargs="*", metavar="NAME=VALUE", help='its inputs, as volume="5 US gal" target=1.100')
    parser.add_argument("--json", action="store_true", help="one JSON document, metric, in full")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Does it; 0, or 2 with one line about what was wrong."""
    try:
        if args.calc is None:
            return _list(args.json, context)
        chosen = calculation(args.calc)
        typed = _typed(chosen, args.given)
        if not typed and any(field.required for field in chosen.fields):
            return _explain(chosen, args.json, context)
        result = chosen.answer(typed, _house(chosen.name, typed, context))
    except ValueError as error:
        name = f" {args.calc}" if args.calc in NAMES else ""
        context.err(visible(f"bench{name}: {error}"))
        return 2
    if args.json:
        context.out(plain_json(result.as_document()))
    else:
        for line in report(result):
            context.out(line)
    return 0


def _typed(chosen: Calculation, given: Sequence[str]) -> dict[str, str]:
    """Inputs by name; a word without a name takes the first input not yet given."""
    typed: dict[str, str] = {}
    nameless = []
    for word in given:
        name, equals, value = word.partition("=")
        if not equals:
            nameless.append(word)
        elif name in typed:
            raise ValueError(f"{name} is given twice")
        else:
            typed[chosen.field(name).name] = value
    free = [field.name for field in chosen.fields if field.name not in typed]
    if len(nameless) > len(free):
        raise ValueError(f"too many inputs; it has {', '.join(field.name for field in chosen.fields)}")
    return {**typed, **dict(zip(free, nameless, strict=False))}


def _house(name: str, typed: Mapping[str, str], context: Context) -> House:
    """What the cellar has settled; read only where it can matter, so that the rest starts fast."""
    from mustwatch.calculators.form import house_of

    settings = context.cellar / "cellar.toml"
    asks = name in HOUSE_CALCS or any(GALLONS.search(text) for text in typed.values())
    if not asks or not settings.is_file():
        return house_of(None)
    from mustwatch.ledger.settings import settings_from

    try:
        text = settings.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise ValueError("cellar.toml is not UTF-8 text") from None
    return house_of(settings_from(text))


def report(result: Result) -> list[str]:
    """The lines of a result: the numbers, the cautions, then how it was reckoned."""
    lines = [_pair(label, text) for label, text in result.lines]
    shown = [line for pair in lines for line in pair]
    for caution in result.cautions:
        shown += _hung("! ", caution)
    shown.append("")
    for label, text in (("method", result.method), ("range", result.range), ("source", result.source)):
        shown += _hung(f"{label:<8}", text)
    return shown


def _pair(label: str, text: str) -> list[str]:
    return _hung(f"{label:<{LABEL - 1}} ", text)


def _hung(lead: str, text: str) -> list[str]:
    """Text wrapped to the width, its further lines under its first."""
    wrapped = textwrap.wrap(text, WIDTH - len(lead), break_on_hyphens=False) or [""]
    return [(lead if number == 0 else " " * len(lead)) + line for number, line in enumerate(wrapped)]


def _list(as_json: bool, context: Context) -> int:
    if as_json:
        context.out(plain_json([_document(each) for each in calculations()]))
        return 0
    for name, purpose in PURPOSES.items():
        context.out(f"{name:<11}{purpose}")
    context.out("")
    context.out("mustwatch bench CALC explains the inputs of one.")
    return 0


def _explain(chosen: Calculation, as_json: bool, context: Context) -> int:
    if as_json:
        context.out(plain_json(_document(chosen)))
        return 0
    for line in explanation(chosen):
        context.out(line)
    return 0


def explanation(chosen: Calculation) -> list[str]:
    """The lines that explain a calculation and its inputs."""
    lines = [f"{chosen.name}: {chosen.purpose}", ""]
    for field in chosen.fields:
        lines += _input_lines(field)
    lines.append("")
    lines += _hung("method  ", chosen.method)
    lines += _hung("range   ", chosen.range)
    lines += _hung("source  ", chosen.source)
    lines.append("")
    lines += _hung("        ", f"mustwatch bench {chosen.name} {chosen.example}")
    return lines


def _input_lines(field: Field) -> list[str]:
    typed = f"  {field.name}={field.quoted_hint}"
    if len(typed) > 26:
        return [typed, *_hung(f"{'':<28}{_need(field):<10}", _meaning(field))]
    return _hung(f"{typed:<28}{_need(field):<10}", _meaning(field))


def _need(field: Field) -> str:
    return "needed" if field.required else "default" if field.default else "optional"


def _meaning(field: Field) -> str:
    choices = f": {', '.join(field.choices)}" if field.choices else ""
    unit = f", {field.unit}" if field.unit else ""
    return f"{field.help}{choices}{unit}"


def _document(chosen: Calculation) -> dict[str, Any]:
    """A calculation as a mapping for JSON."""
    return {
        "calc": chosen.name,
        "purpose": chosen.purpose,
        "inputs": [_input(field) for field in chosen.fields],
        "method": chosen.method,
        "source": chosen.source,
        "range": chosen.range,
    }


def _input(field: Field) -> dict[str, Any]:
    return {
        "name": field.name,
        "kind": field.kind,
        "key": field.key,
        "help": field.help,
        "needed": field.required,
        "default": field.default or None,
        "choices": list(field.choices),
    }
