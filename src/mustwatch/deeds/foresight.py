"""What saving something would change, and what the rules would say: judged on a copy, before anything is on disk."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from mustwatch.cellar.course import SUGARS
from mustwatch.cellar.fold import Cellar, fold
from mustwatch.ledger.drafts import stamped
from mustwatch.ledger.events import Added, Event, Moved
from mustwatch.rules.engine import Cache, judge_cellar
from mustwatch.rules.finding import Finding, Severity
from mustwatch.said.standing import changes

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.deeds.deed import Ground

DRAFT = "~draft-"  # behind every id there can be: what is saved now is written last


@dataclass(frozen=True, slots=True)
class Foresight:
    """What would be other than before.

    dangers: those that would be new, or would rest on what is saved; others: new and milder; gone: rules that would
    no longer find anything; trouble: why the rules could not be asked; changed: facts of the batch, in words;
    heading: where it would be heading, in words, where that shifts.
    """

    dangers: tuple[Finding, ...] = ()
    others: tuple[Finding, ...] = ()
    gone: tuple[str, ...] = ()
    trouble: str = ""
    changed: tuple[str, ...] = ()
    heading: tuple[str, ...] = ()

    @property
    def asks_twice(self) -> bool:
        """Whether it must have been read before it is saved: what has happened must be recordable all the same."""
        return bool(self.dangers)


def foreseen(ground: Ground, drafts: Sequence[Event]) -> Foresight:
    """What saving the drafts would change, in the batch they are for and in what the rules say. Never raises."""
    tag = ground.tag or (drafts[0].batch if drafts else None)
    if tag is None:
        return Foresight()
    try:
        return _compared(replace(ground, tag=tag), drafts, tag)
    except Exception as error:  # a fact must be recordable, whatever a rule makes of it
        return Foresight(trouble=str(error) or type(error).__name__)


def _compared(ground: Ground, drafts: Sequence[Event], tag: str) -> Foresight:
    copies = [stamped(event, f"{DRAFT}{number}", None) for number, event in enumerate(drafts, 1)]
    now = max(ground.now, ground.cellar.now, *(event.at for event in drafts))
    after = cellar_after(ground, copies, now)
    before, cache = ground.findings, ground.cache
    # A rule about rooms or glass may speak through another batch: what is new is new in the cellar.
    found = judge_cellar(after, now, replace(cache, known=dict(cache.known)) if cache else Cache())
    had = {_key(one) for one in _flat(before)}
    fresh = [new for one in found for new in _fresh(one, had)]
    batch, still = after.batches.get(tag), rules_in(one for one in found if one.batch == tag)
    return Foresight(
        dangers=tuple(one for one in fresh if one.severity is Severity.DANGER),
        others=tuple(one for one in fresh if one.severity is not Severity.DANGER),
        gone=tuple(dict.fromkeys(one.rule for one in before if one.batch == tag and one.rule not in still)),
        changed=tuple(changes(ground.batch, batch, now, ground.settings)) if batch else (),
        heading=tuple(_heading(ground, drafts, batch, now)) if batch else (),
    )


def _heading(ground: Ground, drafts: Sequence[Event], batch: Batch, now: datetime) -> list[str]:
    """Where the batch would be heading, after what shifts its course: sugar, water, food, another warmth."""
    before = ground.batch
    if before is None or not batch.active or not any(_shifts(event) for event in drafts):
        return []
    from mustwatch.judgement.forecast.outlook import outlook
    from mustwatch.said.outlook_if import then_words

    settings = ground.settings
    return then_words(outlook(before, settings, now), outlook(batch, settings, now), settings)


def _shifts(event: Event) -> bool:
    if isinstance(event, Added):
        return event.category in SUGARS or event.category in ("water", "nutrient")
    return isinstance(event, Moved) and event.air_c is not None


def cellar_after(ground: Ground, copies: Sequence[Event], now: datetime) -> Cellar:
    """The cellar as it would be at `now` with these stamped events in it."""
    cellar, live = ground.cellar, ground.cellar.clock is not None
    return fold([*ground.events, *copies], ground.settings, now, cellar, lost=cellar.lost, live=live)


def _key(finding: Finding) -> tuple[str, str, Severity]:
    return finding.batch, finding.rule, finding.severity


def _flat(found: Iterable[Finding]) -> list[Finding]:
    return [finding for one in found for finding in (one, *_flat(one.folded))]


def rules_in(found: Iterable[Finding]) -> set[str]:
    """The rules that have found something, also those folded under another: they wait, and are not gone."""
    return {one.rule for one in _flat(found)}


def _fresh(finding: Finding, had: Set[tuple[str, str, Severity]]) -> list[Finding]:
    """The finding if it is new or rests on what is saved; else the dangers under it that are."""
    if _key(finding) not in had or any(name.startswith(DRAFT) for name in finding.evidence):
        return [finding]
    under = [new for one in finding.folded for new in _fresh(one, had)]
    return [one for one in under if one.severity is Severity.DANGER]
