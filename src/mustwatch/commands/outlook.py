"""`outlook [TAG]`: where the batches are heading, how sure that is, and when one will know more."""

from __future__ import annotations

import argparse
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context
from mustwatch.commands.parser import lowered

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.cellar.fold import Cellar
    from mustwatch.judgement.forecast.outlook import Outlook
    from mustwatch.ledger.settings import Settings

BAR_WIDTH, TAG_WIDTH = 36, 16


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "outlook",
        help="where the batches are heading, and when one will know more",
        description="Where the batches are heading, how sure that is, and when one will know more.",
        allow_abbrev=False,
    )
    parser.add_argument(
        "tag", nargs="?", metavar="TAG", type=lowered, help="one batch; without it every batch still in a vessel"
    )
    parser.add_argument(
        "--if",
        dest="supposed",
        metavar="WHAT",
        help="as it would be: warmed to 20C, fed 1g DAP, sealed now, sweetened 10 points",
    )
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the outlook of one batch, or of all."""
    from mustwatch.judgement.forecast.outlook import outlook
    from mustwatch.ledger.visible import plain_json
    from mustwatch.said.outlook_json import to_json

    cellar = context.cellar_view()
    if args.supposed is not None:
        return _run_supposed(args, context)
    batches = _asked(cellar, args.tag, everything=args.json)
    found = [(outlook(batch, cellar.settings, context.now), batch) for batch in batches]
    if args.json:
        documents = [to_json(one, batch) for one, batch in found]
        context.out(plain_json(documents[0] if args.tag else {"now": context.now, "batches": documents}))
        return DONE
    lines = as_text(*found[0], cellar.settings) if args.tag else as_list(found, cellar.settings)
    for line in lines or ["no batch is under way"]:
        context.out(line)
    return DONE


def _run_supposed(args: argparse.Namespace, context: Context) -> int:
    """Prints the outlook of one batch as it would be, beside the one as it stands. Nothing is saved."""
    from mustwatch.commands.context import Refused
    from mustwatch.commands.saving import batch_named, tell_outcome
    from mustwatch.deeds.foresight import foreseen
    from mustwatch.deeds.supposing import batch_if, supposed
    from mustwatch.judgement.forecast.outlook import outlook
    from mustwatch.ledger.visible import plain_json, visible
    from mustwatch.said.outlook_if import if_json, if_words
    from mustwatch.said.terminal import hung

    if args.tag is None:
        raise Refused("of which batch? Name one: outlook TAG --if 'warmed to 20C'")
    cellar = context.cellar_view()
    batch = batch_named(cellar, args.tag)
    ground = replace(context.ground(batch.tag), now=context.now)
    try:
        event = supposed(args.supposed, ground, context.now)
    except ValueError as error:
        raise Refused(str(error)) from None
    after = batch_if(event, ground, context.now)
    before, then = (outlook(each, cellar.settings, context.now) for each in (batch, after))
    if args.json:
        context.out(plain_json(if_json(before, then, after, event, cellar.settings)))
        return DONE
    for words in if_words(before, then, event, cellar.settings):
        for line in hung("", visible(words)):
            context.out(line)
    for line in as_text(then, after, cellar.settings):
        context.out(line)
    tell_outcome(context, replace(foreseen(ground, [event]), others=(), gone=(), changed=(), heading=()))
    return DONE


def _asked(cellar: Cellar, tag: str | None, *, everything: bool) -> list[Batch]:
    from mustwatch.commands.saving import batch_named

    if tag is not None:
        return [batch_named(cellar, tag)]
    return [batch for batch in cellar.batches.values() if everything or batch.active]


def as_list(found: list[tuple[Outlook, Batch]], settings: Settings) -> list[str]:
    """Every batch with its words, in lines of at most 79 columns."""
    from mustwatch.ledger.visible import visible
    from mustwatch.said.outlook import words_of
    from mustwatch.said.terminal import hung

    lines: list[str] = []
    for one, batch in found:
        for place, words in enumerate(words_of(one, batch, settings)):
            lines += hung(f"{'' if place else one.batch:<{TAG_WIDTH}} ", visible(words))
    return lines


def as_text(one: Outlook, batch: Batch, settings: Settings) -> list[str]:
    """One batch: its words, and its band drawn as far as it reaches."""
    from mustwatch.ledger.visible import visible
    from mustwatch.said.course import course_lines
    from mustwatch.said.outlook import words_of
    from mustwatch.said.terminal import hung

    lines = [one.batch]
    for words in words_of(one, batch, settings):
        lines += hung("  ", visible(words))
    if not one.course:
        return lines
    table = course_lines(one, settings)
    return [*lines, "", *(f"  {line}" for line in table[:2]), *_fan(one, table[2:], settings)]


def _fan(one: Outlook, rows: list[str], settings: Settings) -> list[str]:
    """The rows of the table, each with its bar, and the gravities between which the bars lie."""
    from mustwatch.said.course import shown_moments
    from mustwatch.said.figures import gravity

    moments = shown_moments(one)
    low, high = min(m.p10 for m in moments), max(m.p90 for m in moments)
    bars = (_bar(m.p10, m.p50, m.p90, low, high) for m in moments)
    lines = [f"  {row}  {bar}".rstrip() for row, bar in zip(rows, bars, strict=True)]
    ends = f"{gravity(low, settings)}{gravity(high, settings):>{BAR_WIDTH - len(gravity(low, settings))}}"
    return [*lines, f"{'':42}{ends}"]


def _bar(p10: float, p50: float, p90: float, low: float, high: float) -> str:
    """A line of dashes from low to high with the middle marked."""
    reach = max(high - low, 1e-6)
    place = [round((value - low) / reach * (BAR_WIDTH - 1)) for value in (p10, p50, p90)]
    signs = [" "] * BAR_WIDTH
    for n in range(place[0], place[2] + 1):
        signs[n] = "-"
    signs[place[1]] = "o"
    return "".join(signs)
