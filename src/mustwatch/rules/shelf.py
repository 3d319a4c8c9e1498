"""The shelf: every lot of bottles, what is left of it, whether it is on hold and why, and when it is at its best."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import Cellar
from mustwatch.cellar.lots import LotLeft, lots_of
from mustwatch.cellar.tastings import last_score
from mustwatch.judgement.keeping import Window, window_of
from mustwatch.rules import catalogue
from mustwatch.rules.finding import Finding, Severity


@dataclass(frozen=True, slots=True)
class Shelved:
    """One lot on the shelf. hold: the finding that keeps it there, None where nothing does; score: of the last tasting
    that gave one, of 10, for tastings name no lot."""

    batch: Batch
    lot: LotLeft
    window: Window
    hold: Finding | None
    score: float | None


def shelf(cellar: Cellar, findings: Sequence[Finding]) -> list[Shelved]:
    """Every lot that was ever filled, those on hold first, then in the order of batches and lots."""
    holds = _holds(findings)
    found = [
        Shelved(
            batch,
            lot,
            window_of(batch, lot.bottled),
            None if lot.is_empty else holds.get(batch.tag),
            last_score(batch.tastings),
        )
        for batch in cellar.batches.values()
        for lot in lots_of(batch)
    ]
    return sorted(found, key=lambda one: one.hold is None)


def with_bottles(cellar: Cellar) -> Cellar:
    """The part of a cellar that has bottles left: all that has to be judged for the shelf."""
    there = {tag: batch for tag, batch in cellar.batches.items() if batch.bottlings and batch.stage != "ended"}
    return cellar._replace(batches={tag: batch for tag, batch in there.items() if _has_some(batch)})


def _has_some(batch: Batch) -> bool:
    return not all(lot.is_empty for lot in lots_of(batch))


def bottles_left(lots: Iterable[Shelved]) -> int:
    """Bottles left of the counted lots in all, also where nobody knows of which lot some were taken."""
    left = {one.batch.tag: max(0, one.batch.bottles_left) for one in lots if one.batch.stage != "ended"}
    return sum(left.values())


def _holds(findings: Iterable[Finding]) -> dict[str, Finding]:
    """The worst finding for today or worse that concerns bottles, by batch.

    All lots of a batch hold the same drink, so that what is found of one holds all; a hush takes no lot off hold.
    """
    asked = {module.RULE.name for module in catalogue.RULES if "bottled" in module.RULE.stages}
    holds: dict[str, Finding] = {}
    for finding in findings:
        for one in (finding, *finding.folded):
            known = holds.get(one.batch)
            worse = known is None or one.severity > known.severity
            if one.rule in asked and one.severity >= Severity.TODAY and worse:
                holds[one.batch] = one
    return holds
