"""`verify`: the health of every file of the ledger, line by line. Exit status 1 on damage or conflict."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import asdict, replace
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, FOUND, Context

if TYPE_CHECKING:
    from mustwatch.ledger.health import Health
    from mustwatch.ledger.store import Trouble
    from mustwatch.said.troubles import Trouble as Entries


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "verify",
        help="the health of the ledger",
        description="Looks at every line of every file. Status 1: something is missing, damaged, doubled.",
        allow_abbrev=False,
    )
    parser.add_argument("--accept", action="store_true", help="what has vanished or shrunk is known: say it no more")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints what every file holds and everything that is wrong with any."""
    from mustwatch.feeds.repository import repository
    from mustwatch.ledger.visible import plain_json

    found = with_witnesses(context, context.ledger.health(context.clock_now))
    if args.accept:
        found = accepted(context, found)
    git = repository(context.cellar)
    entries = troubled_entries(context)
    sound = found.sound and not any(trouble.grave for trouble in entries)
    if args.json:
        context.out(plain_json(document(found, entries, sound) | {"git": git and asdict(git)}))
    else:
        for line in text(found, entries, sound, git.says if git else ""):
            context.out(line)
    return DONE if sound else FOUND


def with_witnesses(context: Context, found: Health) -> Health:
    """The health with what somebody saw in a file that is not there any more."""
    from mustwatch.ledger import witness

    notes = witness.notes_of(line for _, line in context.ledger.lines())
    return replace(found, troubles=(*found.troubles, *context.ledger.missing(notes, found.troubles)))


def accepted(context: Context, found: Health) -> Health:
    """The health once what is gone is noted as known. Raises OSError."""
    from mustwatch.ledger import memory, witness

    gone = [each for each in found.troubles if each.kind in (*memory.GONE, "memory")]
    if gone and (event := witness.accepting(gone, memory.seen_in(context.cellar), context.clock_now)):
        context.append(event)
    if gone:
        memory.begin_anew(context.cellar, context.ledger.identity)
    return replace(found, troubles=tuple(each for each in found.troubles if each not in gone))


def troubled_entries(context: Context) -> tuple[Entries, ...]:
    """What is wrong with the clock, the settings and what stands in the files."""
    return context.troubles(files=False)


def document(found: Health, entries: Sequence[Entries], sound: bool) -> dict[str, Any]:
    """The JSON document of a verification. entries: what is wrong with sound lines, by what they say."""
    from mustwatch.said.troubles import as_keys

    return {
        "sound": sound,
        "events": found.events,
        "files": [asdict(each) for each in found.files],
        "troubles": [each._asdict() for each in found.troubles],
        "entries": [as_keys(each) for each in entries],
    }


def text(found: Health, entries: Sequence[Entries], sound: bool, git: str = "") -> list[str]:
    """The verification as lines. git: what is not committed or pushed, where the cellar is a repository."""
    from mustwatch.ledger.visible import counted, visible

    lines = [
        f"ok  {visible(each.name)}  {counted(each.events, 'event')}, {counted(each.bytes, 'byte')}"
        + (", written here" if each.ours else "")
        for each in found.files
    ]
    lines += [told(each) for each in found.troubles]
    lines += [f"{e.mark}  {visible(e.batch or 'cellar')}: {visible(f'{e.says} {e.way_back}')}" for e in entries]
    lines += [f"--  {visible(git)}"] if git else []
    if sound:
        lines.append(f"sound: {counted(found.events, 'event')}, nothing missing, nothing changed")
    else:
        count = sum(each.fatal for each in found.troubles) + sum(each.grave for each in entries)
        lines.append(
            f"{count} to be seen to; {counted(found.events, 'event')} can be read; "
            "`mustwatch repair` says what it can do"
        )
    return lines


def told(trouble: Trouble) -> str:
    """One trouble as one safe line: !! where an event may be missing or wrong, -- where it is good to know."""
    from mustwatch.ledger.visible import visible

    where = f"{trouble.file}:{trouble.line}" if trouble.line else trouble.file
    shown = f"  | {visible(trouble.text, limit=300)}" if trouble.text else ""
    back = f": {visible(trouble.back)}" if trouble.back else ""
    return f"{'!!' if trouble.fatal else '--'}  {visible(where)} {visible(trouble.what)}{back}{shown}"
