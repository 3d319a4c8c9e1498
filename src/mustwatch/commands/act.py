"""The command of a deed: its parser is built from the deed's fields, and what is typed is read as the deed reads it."""

import argparse
from collections.abc import Sequence
from typing import Any

from mustwatch.cellar.fold import Cellar
from mustwatch.commands.context import Context, Refused
from mustwatch.commands.parser import lowered
from mustwatch.commands.saving import batch_named, save_and_tell, writable
from mustwatch.deeds.catalogue import deed_named
from mustwatch.deeds.deed import Deed, Field, Ground, Understood, understood

QUOTE = "'"
NOT_HERE = "-"  # in place of a field's line: only a form asks for it


def add_to(subparsers: Any, name: str) -> None:
    """Registers the command of a deed."""
    deed = deed_named(name)
    epilog = " ".join(deed.cautions({})) or None
    parser = subparsers.add_parser(name, help=deed.help, description=deed.help, epilog=epilog, allow_abbrev=False)
    if deed.of in ("batch", "either"):
        or_cellar = ", or - for the cellar" if deed.of == "either" else ""
        parser.add_argument("tag", metavar="TAG", type=lowered, help=f"the batch{or_cellar}")
    for field in deed.fields:
        if field.line != NOT_HERE:
            _add_argument(parser, field)
    parser.add_argument("--json", action="store_true", help="answer with one JSON document")
    parser.set_defaults(run=run, deed=deed)


def _add_argument(parser: argparse.ArgumentParser, field: Field) -> None:
    option, _, metavar = field.line.partition(" ")
    name, shown = f"said_{field.name}", (", ".join(field.choices) or field.hint).replace("%", "%%")
    if option and not option.startswith("-"):
        empty: list[str] | None = [] if metavar == "*" else None
        parser.add_argument(name, metavar=option, nargs=metavar or None, default=empty, help=shown)
    elif metavar.endswith(" ..."):
        metavar = metavar.removesuffix(" ...")
        parser.add_argument(option, dest=name, metavar=metavar, action="append", help=f"{shown}; as often as you like")
    elif option and not metavar and field.choices == ("yes", "no"):
        parser.add_argument(option, dest=name, action="store_const", const="yes", help=field.hint)
    else:
        metavar = metavar or field.name.upper()
        parser.add_argument(option or f"--{field.name}", dest=name, metavar=metavar, help=shown)


def run(args: argparse.Namespace, context: Context) -> int:
    """Saves what was done; a danger that follows from it is told at once."""
    writable(context)
    deed: Deed = args.deed
    tag = None if (tag := getattr(args, "tag", None)) == "-" and deed.of == "either" else tag
    if tag is None and deed.of != "new":
        # What concerns no batch is judged by nothing, so nothing is folded before it is on disk.
        ground = Ground(None, Cellar(context.clock_now, context.settings), context.clock_now)
    else:
        ground = context.ground(tag)
    if tag is not None:
        batch_named(ground.cellar, tag)
    texts = _texts(args, deed)
    meant = understood(deed, texts, ground)
    if meant.faults:
        raise Refused(_refusal(deed, texts, meant))
    return save_and_tell(context, ground, meant.events, meant.words, args.json, meant.cautions)


def _texts(args: argparse.Namespace, deed: Deed) -> dict[str, str]:
    """What was typed for each field. Raises Refused for a blank option: a slip in a script."""
    texts, standing = {}, []
    for field in deed.fields:
        given: str | Sequence[str] | None = getattr(args, f"said_{field.name}", None)
        words = [given] if isinstance(given, str) else list(given or ())
        if not field.line or field.line.startswith("-"):
            if not all(word.strip() for word in words):
                raise Refused(f"{_option(field)} is empty; give a value, or leave the option out")
            texts[field.name] = " + ".join(words)
        else:
            standing += words
            texts[field.name] = " ".join(words)
            if words and not field.asked and not deed.split and not texts[field.name].strip():
                raise Refused(f"the {field.name} is empty; leave it out, or give one")
        if not words and field.asked:
            texts[field.name] = field.usual
    if deed.split is None:
        return texts
    try:
        return texts | deed.split(standing)
    except ValueError as error:
        raise Refused(str(error)) from None


def _option(field: Field) -> str:
    return field.line.partition(" ")[0] or f"--{field.name}"


def _refusal(deed: Deed, texts: dict[str, str], meant: Understood) -> str:
    name, fault = next(iter(meant.faults.items()))
    field = next(one for one in deed.fields if one.name == name)
    text = texts.get(name, "").strip()
    if not text or not _option(field).startswith("--"):
        return fault
    # Where the fault begins with what was typed, it reads on from the option.
    return f"{_option(field)}{'' if fault.lstrip(QUOTE).startswith(text[:9]) else ':'} {fault}"
