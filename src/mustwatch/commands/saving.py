"""What every saving command shares: which batch, when, and telling what was saved and what it changed."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any, TypeVar

from mustwatch.commands.context import DONE, Context, Refused
from mustwatch.commands.parser import lowered
from mustwatch.ledger.visible import plain_json, visible

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.cellar.fold import Cellar
    from mustwatch.ledger.events import Event
    from mustwatch.rules.finding import Finding

E = TypeVar("E", bound="Event")

ECHOED = 200  # cells of a note that are said back; all of it is kept
JUST_NOW = 60  # seconds; a time further back than that was meant, and is said back
DIARY = timedelta(days=2)  # what happened so long ago is being typed in from a diary, and the next line may settle it


def saving_parser(
    subparsers: Any, name: str, help_line: str, *, tag: bool = True, at: bool = True
) -> argparse.ArgumentParser:
    """A parser with what all saving commands take: TAG, --at, --note, --json."""
    parser = subparsers.add_parser(name, help=help_line, description=help_line, allow_abbrev=False)
    if tag:
        parser.add_argument("tag", metavar="TAG", type=lowered, help="the batch")
    if at:
        parser.add_argument(
            "--at",
            default="",
            metavar="WHEN",
            help="when it happened, if not now: yesterday 21:00, 3 days ago, 2026-05-01 18:00",
        )
    parser.add_argument("--note", metavar="TEXT", help="a note, kept word for word")
    parser.add_argument("--json", action="store_true", help="answer with one JSON document")
    return parser


def batch_named(cellar: Cellar, tag: str) -> Batch:
    """The batch of a tag. Raises Refused naming the tags that come near."""
    if tag in cellar.batches:
        return cellar.batches[tag]
    near = get_close_matches(tag, cellar.batches, n=3, cutoff=0.5) or list(cellar.batches)[:8]
    known = ", ".join(visible(name) for name in near) or "none yet; `mustwatch begin` mixes one"
    raise Refused(f"no batch {visible(tag, limit=40)!r}; there is: {known}")


def batch_to_write(context: Context, tag: str) -> Batch:
    """The batch of a tag, in a cellar that may be written to. Raises Refused, first of all where it may not."""
    writable(context)
    return batch_named(context.cellar_view(), tag)


def writable(context: Context) -> None:
    """Raises Refused where nothing may be saved: before anything is said of what was not there yet."""
    if context.read_only:
        raise Refused(f"not saved: {context.read_only}")


def happened_at(context: Context, words: str) -> datetime:
    """The moment that --at names, else now. Raises Refused."""
    from mustwatch.entry.when import moment

    try:
        return moment(words, context.clock_now)
    except ValueError as error:
        raise Refused(visible(str(error).replace("@", ""))) from None


def day_to_come(context: Context, name: str, words: str | None) -> datetime | None:
    """The moment to come that an option names; None where it was left out. Raises Refused."""
    from mustwatch.entry.when import coming

    if words is None:
        return None
    try:
        return coming(words, context.clock_now)
    except ValueError as error:
        raise Refused(f"--{name}: {visible(str(error))}") from None


def drafted(kind: str, at: datetime, tag: str | None, **keys: Any) -> Event:
    """A draft event of a kind that there is. Raises Refused with the one line that says what is wrong."""
    from mustwatch.ledger.events import MODELS

    return drafted_as(MODELS[kind], at, tag, **keys)


def drafted_as(model: type[E], at: datetime, tag: str | None, **keys: Any) -> E:
    """The same, for a command that tells what it understood from the event's own keys."""
    from mustwatch.ledger.events import draft_of
    from mustwatch.said.faults import plainly

    try:
        return draft_of(model, at, tag, **keys)
    except ValueError as error:
        raise Refused(visible(plainly(str(error)))) from None


def save_and_tell(
    context: Context, tag: str | None, events: Sequence[Event], understood: Sequence[str], as_json: bool
) -> int:
    """Saves the events, then says what was understood, what changed and which findings are new or gone.

    tag: the batch; None for the cellar as a whole.
    """
    if tag is None:
        return _saved_for_all(context, events, understood, as_json)
    understood = [*understood, *_when_and_note(context, events, understood)]
    before = before_saving(context)
    saved = context.append(*events)
    outcome = outcome_of(context, tag, before)
    if as_json:
        _tell_json(context, tag, saved, understood, outcome)
    else:
        context.out(f"{tag}: saved {'; '.join(visible(line) for line in understood) or saved[0].kind}")
        tell_outcome(context, outcome, late=context.clock_now - max(event.at for event in events) > DIARY)
    return DONE


def _when_and_note(context: Context, events: Sequence[Event], understood: Sequence[str]) -> list[str]:
    """The note and the time of what is saved, in words, where they are not said already."""
    from mustwatch.said.dates import ago, moment

    told = " ".join(understood)
    lines = [f"note: {visible(note, limit=ECHOED)}" for one in events if (note := one.note) and "note: " not in told]
    at = events[0].at
    if "when: " not in told and abs((context.clock_now - at).total_seconds()) > JUST_NOW:
        lines.append(f"when: {moment(at, context.clock_now)}, {ago(at, context.clock_now)}")
    return lines


@dataclass(frozen=True, slots=True)
class Before:
    """The cellar and its findings as they stood before something was saved."""

    cellar: Cellar
    found: Sequence[Finding]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a save changed: facts in words, findings that are new, rules that no longer find anything."""

    changed: Sequence[str] = ()
    new: Sequence[Finding] = ()
    gone: Sequence[str] = ()


def before_saving(context: Context) -> Before:
    """The cellar and its findings now."""
    cellar = context.cellar_view()
    return Before(cellar, context.findings(cellar))


def outcome_of(context: Context, tag: str, before: Before) -> Outcome:
    """What has changed about a batch since `before`."""
    from mustwatch.cellar.fold import fold
    from mustwatch.said.standing import changes

    earlier = _of(before.found, tag)
    old = {(found.rule, found.severity) for found in earlier}
    after = fold(context.contents().events, context.settings, context.clock_now, before.cellar)
    found = _of(context.findings(after), tag)
    return Outcome(
        changes(before.cellar.batches.get(tag), after.batches[tag], context.clock_now, context.settings)
        if tag in after.batches
        else (),
        [one for one in found if (one.rule, one.severity) not in old],
        sorted({one.rule for one in earlier} - still_there(found)),
    )


def tell_outcome(context: Context, outcome: Outcome, *, late: bool = False) -> None:
    """Prints what changed. late: a diary is being typed in, so that all but danger is told by name alone."""
    for line in outcome.changed:
        context.out(f"  {visible(line)}")
    loud = [one for one in outcome.new if not late or one.severity.word == "danger"]
    for found in loud:
        context.out(f"  {found.severity.mark} {found.severity.word}: {visible(found.says)} ({found.rule})")
        for step in found.do[:3] if found.severity.word == "danger" else found.do[:1]:
            context.out(f"     do: {visible(step)}")
    if outcome.gone:
        context.out(f"  no longer found: {', '.join(outcome.gone)}")
    if quiet := [one.rule for one in outcome.new if one not in loud]:
        context.out(f"  as far as it is written down: {', '.join(quiet)}; `mustwatch check` says more")


def _saved_for_all(context: Context, events: Sequence[Event], understood: Sequence[str], as_json: bool) -> int:
    """Saves what concerns no batch: nothing is judged, so nothing is folded before it is on disk."""
    understood = [*understood, *_when_and_note(context, events, understood)]
    saved = context.append(*events)
    if as_json:
        _tell_json(context, None, saved, understood, Outcome())
    else:
        context.out(f"cellar: saved {'; '.join(visible(line) for line in understood) or saved[0].kind}")
    return DONE


def _of(findings: Sequence[Finding], tag: str) -> list[Finding]:
    return [found for found in findings if found.batch == tag]


def still_there(found: Sequence[Finding]) -> set[str]:
    """The rules that have found something, also those folded under another: they wait, and are not gone."""
    return {rule for one in found for rule in (one.rule, *still_there(one.folded))}


def _tell_json(
    context: Context, tag: str | None, saved: Sequence[Event], understood: Sequence[str], outcome: Outcome
) -> None:
    from mustwatch.ledger.events import encode

    context.out(
        plain_json(
            {
                "batch": tag,
                "saved": [json.loads(encode(event)) for event in saved],
                "understood": list(understood),
                "changed": list(outcome.changed),
                "new_findings": [
                    {"rule": one.rule, "severity": one.severity.word, "says": one.says, "do": list(one.do)}
                    for one in outcome.new
                ],
                "cleared": list(outcome.gone),
            }
        )
    )
