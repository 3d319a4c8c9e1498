"""The batch list as facts: one row a batch, in the order of need."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from mustwatch.rules.need import need as in_order
from mustwatch.said.dates import short_age
from mustwatch.said.figures import gravity
from mustwatch.screens.ink import Line, padded

if TYPE_CHECKING:
    from mustwatch.cellar.batch import Batch
    from mustwatch.cellar.fold import Cellar
    from mustwatch.rules.finding import Finding

DANGER = 3  # as Severity.DANGER: the rules are not imported to draw a list that is already judged
WITH_SEEN = 46  # cells of a list that has room for when a batch was last looked at


@dataclass(frozen=True, slots=True)
class Row:
    """One batch in the list. severity: of its worst waking finding, as a number, None when there is none."""

    tag: str
    name: str
    severity: int | None
    sign: str
    word: str
    stage: str
    sg: str
    read_at: datetime | None
    looked: datetime | None
    ended: bool
    typed: bool = False


def rows_of(cellar: Cellar, findings: Sequence[Finding]) -> list[Row]:
    """The rows of all batches, ordered by need."""
    by_tag: dict[str, list[Finding]] = {}
    for finding in findings:
        by_tag.setdefault(finding.batch, []).append(finding)
    rows = [_row(batch, by_tag.get(tag, []), cellar) for tag, batch in cellar.batches.items()]
    return sorted(rows, key=need)


def _row(batch: Batch, found: Sequence[Finding], cellar: Cellar) -> Row:
    worst = max((one.severity for one in found if not one.asleep), default=None)
    quiet = "z " if any(one.hushed_until is not None for one in found) else "  "
    latest = batch.latest
    return Row(
        tag=batch.tag,
        name=batch.name,
        severity=int(worst) if worst is not None else None,
        sign=worst.mark if worst is not None else quiet,
        word=worst.word if worst is not None else "",
        stage=batch.stage,
        sg=gravity(latest.sg, cellar.settings) if latest else "-",
        read_at=latest.at if latest else None,
        looked=batch.last_looked,
        ended=batch.stage == "ended",
    )


def need(row: Row) -> tuple[Any, ...]:
    """The sorting key of a row: where the batch stands in the order of need."""
    return in_order(row.severity, row.stage, row.looked, row.tag)


def kept_order(rows: Sequence[Row], order: Sequence[str]) -> list[Row]:
    """The rows in an order kept from before; rows not in it come where need puts them, ahead of all milder ones."""
    place = {tag: number for number, tag in enumerate(order)}
    known = sorted((row for row in rows if row.tag in place), key=lambda row: place[row.tag])
    for row in (row for row in rows if row.tag not in place):
        number = next((number for number, other in enumerate(known) if need(other) > need(row)), len(known))
        known.insert(number, row)
    return known


def matching(rows: Iterable[Row], words: str, with_ended: bool, written: Collection[str] = frozenset()) -> list[Row]:
    """The rows whose tag, name, stage or severity holds the words, or of which somebody wrote them.

    written: the tags of the latter. Ended batches come only when asked for.
    """
    wanted = words.lower().split()
    return [
        row
        for row in rows
        if (with_ended or not row.ended) and (row.tag in written or all(word in _searched(row) for word in wanted))
    ]


def _searched(row: Row) -> str:
    return f"{row.tag} {row.name} {row.stage} {row.word}".lower()


def _widths(width: int) -> tuple[int, int]:
    """Cells for (tag, stage): the narrow list shortens the longest stage word, and has no room for the last look."""
    wide = width >= WITH_SEEN
    stage = 9 if wide else 7
    return max(6, width - stage - (26 if wide else 21)), stage


def drawn(row: Row, width: int, now: datetime) -> Line:
    """The row as a line `width` cells wide: sign and word, tag, stage, gravity and its age; with room the last look."""
    tag_width, stage_width = _widths(width)
    stage = row.stage if len(row.stage) <= stage_width else row.stage[: stage_width - 1] + "."
    seen = ((f"{_age(row.looked, now):>5}", ""),) if width >= WITH_SEEN else ()
    return (
        (f"{row.sign}{row.word:<6} ", row.word),
        (shortened(row.tag, tag_width), ""),
        ("+ " if row.typed else "  ", "strong"),
        (f"{stage:<{stage_width}} ", ""),
        (f"{row.sg:>5}", ""),
        (f"{_age(row.read_at, now):>4}", ""),
        *seen,
    )


def _age(since: datetime | None, now: datetime) -> str:
    return short_age(since, now) if since else "-"


def shortened(tag: str, width: int) -> str:
    """A tag in exactly `width` cells; a long one keeps its end, where the number stands."""
    if len(tag) <= width:
        return padded(tag, width)
    return padded(f"{tag[: width - 6]}..{tag[-4:]}", width)


def heading(width: int) -> Line:
    """The line above the rows."""
    tag_width, stage_width = _widths(width)
    seen = " seen" if width >= WITH_SEEN else ""
    return ((f"   need   {'batch':<{tag_width + 2}}{'stage':<{stage_width + 1}}  SG read{seen}", "head"),)


def tally(findings: Sequence[Finding]) -> list[tuple[int, str]]:
    """(how many, of which severity) of the waking findings, worst first."""
    waking = sorted((finding.severity for finding in findings if not finding.asleep), reverse=True)
    return [(waking.count(severity), severity.word) for severity in dict.fromkeys(waking)]
