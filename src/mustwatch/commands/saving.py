"""What every saving command shares: which batch, when, and telling what was saved and what it changed."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import timedelta
from typing import TYPE_CHECKING, Any

from mustwatch.commands.context import DONE, Context, Refused
from mustwatch.deeds import ground as grounds
from mustwatch.ledger.visible import plain_json, visible

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.cellar.fold import Cellar
    from mustwatch.deeds.foresight import Foresight
    from mustwatch.ledger.events import Event

DIARY = timedelta(days=2)  # what happened so long ago is being typed in from a diary, and the next line may settle it


def batch_named(cellar: Cellar, tag: str) -> Batch:
    """The batch of a tag. Raises Refused naming the tags that come near."""
    try:
        return grounds.batch_named(cellar, tag)
    except ValueError as error:
        raise Refused(str(error)) from None


def writable(context: Context) -> None:
    """Raises Refused where nothing may be saved: before anything is said of what was not there yet."""
    if context.read_only:
        raise Refused(f"not saved: {context.read_only}")


def drafted(context: Context, kind: str, tag: str | None, **keys: Any) -> Event:
    """A draft event of now. Raises Refused with the one line that says what is wrong."""
    from mustwatch.ledger.drafts import draft
    from mustwatch.said.faults import plainly

    try:
        return draft(kind, context.clock_now, tag, **keys)
    except ValueError as error:
        raise Refused(visible(plainly(str(error)))) from None


def save_and_tell(
    context: Context,
    ground: grounds.Ground,
    events: Sequence[Event],
    words: Sequence[str],
    as_json: bool,
    cautions: Sequence[str] = (),
) -> int:
    """Saves the events, then says what was understood, what changed and which findings are new or gone."""
    from mustwatch.commands.asking import asked
    from mustwatch.deeds.foresight import foreseen
    from mustwatch.said.telling import told

    entered = len(events)
    events = asked(context, ground, events, as_json)
    words = [*words, *(told(event, ground.settings, ground.now) for event in events[entered:])]
    ahead = foreseen(ground, events)
    saved = context.append(*events)
    if as_json:
        _tell_json(context, saved, words, ahead)
        return DONE
    context.out(f"{saved[0].batch or 'cellar'}: saved {'; '.join(visible(line) for line in words) or saved[0].kind}")
    late = context.clock_now - max(event.at for event in events) > DIARY
    for caution in () if late or ahead.dangers else cautions:
        context.out(f"  take care: {caution}")
    tell_outcome(context, ahead, late=late)
    return DONE


def tell_outcome(context: Context, ahead: Foresight, *, late: bool = False) -> None:
    """Prints what changed. late: a diary is being typed in, so that all but danger is told by name alone."""
    for line in (*ahead.changed, *ahead.heading):
        context.out(f"  {visible(line)}")
    for found in (*ahead.dangers, *(() if late else ahead.others)):
        context.out(f"  {found.severity.mark} {found.severity.word}: {visible(found.says)} ({found.rule})")
        for step in found.do[:3] if found in ahead.dangers else found.do[:1]:
            context.out(f"     do: {visible(step)}")
    if ahead.gone:
        context.out(f"  no longer found: {', '.join(ahead.gone)}")
    if late and ahead.others:
        names = ", ".join(one.rule for one in ahead.others)
        context.out(f"  as far as it is written down: {names}; `mustwatch check` says more")
    if ahead.trouble:
        context.out(f"  not known what the rules say: {visible(ahead.trouble)}")


def _tell_json(context: Context, saved: Sequence[Event], words: Sequence[str], ahead: Foresight) -> None:
    from mustwatch.ledger.codec import encode

    context.out(
        plain_json(
            {
                "batch": saved[0].batch,
                "saved": [json.loads(encode(event)) for event in saved],
                "understood": list(words),
                "changed": list(ahead.changed),
                "new_findings": [
                    {"rule": one.rule, "severity": one.severity.word, "says": one.says, "do": list(one.do)}
                    for one in (*ahead.dangers, *ahead.others)
                ],
                "cleared": list(ahead.gone),
            }
        )
    )
