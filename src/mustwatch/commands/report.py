"""`report TAG`: one batch on one sheet, as plain text to paste into a message or as a page to print."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context
from mustwatch.commands.parser import lowered

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from mustwatch.cellar.batch import Batch
    from mustwatch.feeds.paper import Curve, Section, Sheet
    from mustwatch.judgement.forecast.outlook import Outlook
    from mustwatch.rules.finding import Finding

LABEL = 16  # cells of a label in the plain text
TICKS = 5
LEAST_APART = 0.1  # of the width, between two days on the scale


def add_to(subparsers: Any) -> None:
    """Registers the command."""
    parser = subparsers.add_parser(
        "report",
        help="one batch on one sheet, to print or to paste",
        description="One batch on one sheet: recipe, where it stands, findings, outlook, readings, story.",
        allow_abbrev=False,
    )
    parser.add_argument("tag", metavar="TAG", type=lowered)
    parser.add_argument("--html", metavar="FILE", type=Path, help="write a page that needs nothing else")
    parser.add_argument("--json", action="store_true", help="the same parts as one JSON document")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace, context: Context) -> int:
    """Prints the report as text, or writes it as a page."""
    from mustwatch.commands.saving import batch_named
    from mustwatch.ledger.visible import plain_json, visible

    sheet = sheet_of(batch_named(context.cellar_view(), args.tag), context)
    if args.json and args.html is None:
        context.out(plain_json(as_keys(args.tag, sheet)))
        return DONE
    if args.html is None:
        for line in as_text(sheet):
            context.out(line)
        return DONE
    from mustwatch.commands.writing import writing
    from mustwatch.feeds.paper import GENERATOR, page
    from mustwatch.feeds.written import put, refuse_others

    with writing(args.html):
        refuse_others(args.html, GENERATOR.encode())
        put(args.html, page(sheet).encode("utf-8", "backslashreplace"))
    context.out(f"{visible(str(args.html))}: written")
    return DONE


def as_keys(tag: str, sheet: Sheet) -> dict[str, Any]:
    """The report as stable keys: its sections in order, each with rows of label and text."""
    parts = [{"head": section.head, "rows": [list(row) for row in section.rows]} for section in sheet.sections]
    return {"batch": tag, "title": sheet.title, "made": sheet.made, "sections": parts}


def sheet_of(batch: Batch, context: Context) -> Sheet:
    """The report of a batch; texts hold what users wrote and are not yet made visible()."""
    from mustwatch.feeds.paper import Section, Sheet
    from mustwatch.judgement.forecast.outlook import outlook
    from mustwatch.judgement.profile import profile_of
    from mustwatch.judgement.state import judge
    from mustwatch.said.comparison import facts_of
    from mustwatch.said.dates import full_day, full_moment
    from mustwatch.said.outlook import foreseen
    from mustwatch.said.standing import standing

    cellar, settings, now = context.cellar_view(), context.settings, context.now
    found = [one for one in context.findings(cellar) if one.batch == batch.tag]
    facts = facts_of(profile_of(batch, settings, now), settings)
    recipe = [(fact.what, fact.words) for fact in facts if fact.part == "recipe" and fact.words]
    ahead = outlook(batch, settings, now)
    sections = (
        Section("Recipe", tuple(recipe)),
        Section("Where it stands", standing(batch, judge(batch, settings, now), now, settings)),
        _findings(found),
        Section("Outlook", tuple(("", words) for words in foreseen(ahead, settings)) if batch.active else ()),
        Section("Tasted", _tastings(batch, context)),
        Section("Story", _story(batch, context)),
    )
    began = f", begun {full_day(batch.started)}" if batch.started else ""
    title = batch.name if batch.name in ("", batch.tag) else f"{batch.name} ({batch.tag})"
    return Sheet(
        title or batch.tag, f"As it stood on {full_moment(now)}{began}", _curve(batch, ahead, context), sections
    )


def _findings(found: Sequence[Finding]) -> Section:
    from mustwatch.feeds.paper import Section
    from mustwatch.rules.finding import Severity

    rows = tuple((one.severity.word, "\n".join((one.says, *one.do))) for one in found)
    grave = frozenset(place for place, one in enumerate(found) if one.severity is Severity.DANGER)
    return Section("Findings", rows or (("none", "Nothing is found amiss."),), grave)


def _tastings(batch: Batch, context: Context) -> tuple[tuple[str, str], ...]:
    from mustwatch.said.dates import full_day
    from mustwatch.said.telling import told_with_note

    return tuple((full_day(each.at), told_with_note(each, context.settings, context.now)) for each in batch.tastings)


def _story(batch: Batch, context: Context) -> tuple[tuple[str, str], ...]:
    """Everything that happened but tastings, which have a part of their own, and the lines of probes."""
    from mustwatch.said.dates import moment
    from mustwatch.said.telling import told_with_note

    known = {reading.id: reading for reading in batch.readings}
    return tuple(
        (moment(event.at, context.now), told_with_note(event, context.settings, context.now, known.get(event.id)))
        for event in batch.story
        if not event.by_itself and event.kind != "tasted"
    )


def _curve(batch: Batch, ahead: Outlook, context: Context) -> Curve:
    from datetime import timedelta

    from mustwatch.feeds.paper import Curve
    from mustwatch.said.dates import day
    from mustwatch.said.figures import gravity

    readings = tuple((each.at, each.sg) for each in batch.good_readings)
    if not readings:
        return Curve(())
    until = ahead.at + timedelta(days=28)
    band = tuple((m.at, m.p10, m.p90) for m in ahead.course if m.at <= until) if batch.active else ()
    levels = [sg for _, sg in readings] + [sg for _, low, high in band for sg in (low, high)]
    low, high = min(levels), max(levels)
    steps = [low + (high - low) * place / (TICKS - 1) for place in range(TICKS)] if high - low > 0.004 else [high]
    times = _apart([readings[0][0], readings[-1][0], *([band[-1][0]] if band else [])])
    said = f"gravity from {gravity(readings[0][1], context.settings)} to {gravity(readings[-1][1], context.settings)}"
    ticks = tuple((sg, gravity(sg, context.settings)) for sg in steps)
    days = tuple((at, day(at, context.now)) for at in times)
    return Curve(readings, band, ticks, days, f"Chart: {said} in {len(readings)} readings.")


def _apart(times: Sequence[datetime]) -> list[datetime]:
    """The times whose words have room beside each other on the scale, the first and the last kept."""
    whole, kept = times[-1] - times[0], [times[0]]
    for at in times[1:-1]:
        kept += [at] if at - kept[-1] >= whole * LEAST_APART and times[-1] - at >= whole * LEAST_APART else []
    return kept + ([times[-1]] if whole else [])


def as_text(sheet: Sheet) -> list[str]:
    """The report in lines of at most 79 columns, to be pasted into a message."""
    from mustwatch.ledger.visible import visible

    lines = [visible(sheet.title), visible(sheet.made)]
    for section in sheet.sections:
        if section.rows:
            lines += ["", section.head]
        for label, text in section.rows:
            lines += _row(label, text)
    return lines


def _row(label: str, text: str) -> list[str]:
    """The lines of a row: its label stands before the first line of its text."""
    from mustwatch.ledger.visible import visible, visible_lines
    from mustwatch.said.terminal import hung

    first, *more = visible_lines(text) or [""]
    head = f"  {visible(label):<{LABEL}} " if label else "  "
    return [*hung(head, first), *(line for part in more for line in hung(" " * len(head), part))]
