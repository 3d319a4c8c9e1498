"""What the rules would say if something were saved: judged on a copy, before anything is on disk."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from mustwatch.cellar.fold import fold
from mustwatch.ledger.events import Event, stamped
from mustwatch.rules.engine import judge_batch, verdict_of
from mustwatch.rules.finding import Finding, Severity
from mustwatch.rules.view import View

if TYPE_CHECKING:
    from mustwatch.ledger.settings import Settings

DRAFT = "draft-"


@dataclass(frozen=True, slots=True)
class Foresight:
    """dangers: those that would be new, or would rest on what is saved; others: new and milder;
    gone: rules that would no longer find anything; trouble: why the rules could not be asked."""

    dangers: tuple[Finding, ...] = ()
    others: tuple[Finding, ...] = ()
    gone: tuple[str, ...] = ()
    trouble: str = ""


def foreseen(
    events: Iterable[Event], drafts: Sequence[Event], tag: str, settings: Settings, now: datetime
) -> Foresight:
    """What saving the drafts would change in the findings of one batch. events: all of the ledger. Never raises."""
    try:
        own = [event for event in events if event.batch in (tag, None)]
        copies = [stamped(event, f"{DRAFT}{number}", None) for number, event in enumerate(drafts, 1)]
        return _compared(_judged(own, tag, settings, now), _judged([*own, *copies], tag, settings, now))
    except Exception as error:  # a fact must be recordable, whatever a rule makes of it
        return Foresight(trouble=str(error) or type(error).__name__)


def _judged(events: Sequence[Event], tag: str, settings: Settings, now: datetime) -> list[Finding]:
    cellar = fold(events, settings, now)
    batch = cellar.batches.get(tag)
    if batch is None:
        return []
    return _flat(judge_batch(View(batch, verdict_of(batch, settings, now), settings, now, notes=cellar.notes)))


def _flat(found: Iterable[Finding]) -> list[Finding]:
    return [finding for one in found for finding in (one, *_flat(one.folded))]


def _compared(before: Sequence[Finding], after: Sequence[Finding]) -> Foresight:
    had = {(one.rule, one.severity) for one in before}
    fresh = [one for one in after if (one.rule, one.severity) not in had or _rests_on_draft(one)]
    left = {one.rule for one in after}
    return Foresight(
        dangers=tuple(one for one in fresh if one.severity is Severity.DANGER),
        others=tuple(one for one in fresh if one.severity is not Severity.DANGER),
        gone=tuple(dict.fromkeys(one.rule for one in before if one.rule not in left)),
    )


def _rests_on_draft(finding: Finding) -> bool:
    return any(name.startswith(DRAFT) for name in finding.evidence)
