"""`show`: one batch, its facts, its findings, and its story with each reading raw and corrected."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context
from mustwatch.commands.parser import lowered
from mustwatch.commands.saving import batch_named
from mustwatch.ledger.visible import plain_json, visible
from mustwatch.said.troubles import ID_END, as_keys

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.rules.finding import Finding
    from mustwatch.said.troubles import Trouble

STAMP = 17  # cells for a day, its year and its time


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "show",
        help="one batch",
        description="One batch: where it stands, its findings, its story, its readings as read and as corrected.",
        allow_abbrev=False,
    )
    parser.add_argument("tag", metavar="TAG", type=lowered)
    parser.add_argument("--ids", action="store_true", help="with the end of each entry's id, as `fix` takes it")
    parser.add_argument("--plain", action="store_true", help="its readings and what is foreseen, as plain tables")
    parser.add_argument("--json", action="store_true", help="one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the batch."""
    cellar = context.cellar_view()
    batch = batch_named(cellar, args.tag)
    found = [one for one in context.findings(cellar) if one.batch == batch.tag]
    wrong = [one for one in context.troubles() if one.batch == batch.tag]
    if args.json:
        context.out(plain_json(as_json(batch, found) | {"troubles": [as_keys(one) for one in wrong]}))
        return DONE
    lines = as_table(batch, context) if args.plain else as_text(batch, found, wrong, context, args.ids)
    for line in lines:
        context.out(line)
    return DONE


def as_table(batch: Batch, context: Context) -> list[str]:
    """The course of a batch in lines that can be heard: each reading, then what is foreseen, without drawn signs."""
    from mustwatch.judgement.forecast.outlook import outlook
    from mustwatch.said.course import course_lines, readings_lines

    settings, now = context.settings, context.now
    lines = [visible(batch.tag), *readings_lines(batch, now, settings)]
    if batch.active:
        lines += course_lines(outlook(batch, settings, now), settings)
    return [visible(line) for line in lines]


def as_text(batch: Batch, found: list[Finding], wrong: list[Trouble], context: Context, ids: bool = False) -> list[str]:
    """The batch in lines of at most 79 columns, everything made visible(); ids: with the end of each entry's id."""
    from mustwatch.commands import check
    from mustwatch.judgement.state import judge
    from mustwatch.rules.normal import normal_pages_for
    from mustwatch.said.dates import moment
    from mustwatch.said.figures import degrees
    from mustwatch.said.standing import standing
    from mustwatch.said.telling import told_with_note
    from mustwatch.said.terminal import hung

    verdict = judge(batch, context.settings, context.now)
    name = "" if batch.name == batch.tag else visible(batch.name)
    lines = [f"{visible(batch.tag)}  {name}".rstrip()]
    for label, text in standing(batch, verdict, context.now, context.settings):
        lines += hung(f"  {label:<9}", visible(text))
    for trouble in wrong:
        lines += hung(f"  {trouble.mark} record  ", visible(f"{trouble.says} {trouble.way_back}"))
    lines += ["", "findings" if found else "findings: none"]
    for one in found:
        lines += check.lines_of(one, context.now)
    if normal := normal_pages_for(batch, context.now):
        lines += hung("  normal   ", f"{', '.join(normal)}: seen lately; `mustwatch explain {normal[0]}` says why")
    readings = {reading.id: reading for reading in batch.readings}
    lines += ["", f"story, gravity as read -> as corrected to {degrees(20.0, context.settings)}"]
    for event in batch.story:
        stamp = f"{moment(event.at, context.now):<{STAMP}}"
        short = f"{visible(event.id[-ID_END:])}  " if ids else ""
        said = told_with_note(event, context.settings, context.now, readings.get(event.id))
        lines += hung(f"  {stamp}  {short}", visible(said))
    return lines


def as_json(batch: Batch, found: list[Finding]) -> dict[str, Any]:
    """The batch with stable keys, metric."""
    from mustwatch.commands import check
    from mustwatch.judgement.alcohol import alcohol_now
    from mustwatch.ledger.codec import encode

    closing, yeast, made = batch.closing, batch.yeast, alcohol_now(batch)
    return {
        "batch": batch.tag,
        "name": batch.name,
        "style": batch.style,
        "stage": batch.stage,
        "stage_since": batch.stage_since,
        "started": batch.started,
        "last_looked": batch.last_looked,
        "volume_l": batch.volume_l,
        "vessel": {"kind": batch.vessel_kind, "capacity_l": batch.capacity_l, "headspace_l": batch.headspace_l},
        "closure": {"kind": closing.kind, "vented": closing.vented, "since": closing.since},
        "yeast": None
        if yeast is None
        else {"label": yeast.name, "tolerance_abv": [yeast.tolerance_low, yeast.tolerance_high]},
        "start_sg": batch.start.sg if batch.start else None,
        "start_estimate_sg": batch.start_estimate_sg,
        "fed_points": round(batch.added_points, 2),
        "alcohol_abv": made and made._asdict(),
        "readings": [reading._asdict() | {"sg": round(reading.sg, 5)} for reading in batch.readings],
        "findings": [check.as_keys(one) for one in found],
        "bottles": {"made": batch.bottles_made, "left": batch.bottles_left},
        "story": [json.loads(encode(event)) for event in batch.story],
    }
