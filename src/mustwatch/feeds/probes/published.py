"""Each batch's state and worst finding as documents for others: home dashboards, scripts. Pure.

One topic a batch, PREFIX/TAG: `{"at","batch","name","stage","state","sg","sg_at","must_c","must_at","findings",
"worst":{"rule","severity","says","since"}}`; times RFC 3339, °C, null where nothing is known.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import Cellar
from mustwatch.judgement.state import judge
from mustwatch.rules.finding import Finding


def documents(prefix: str, cellar: Cellar, found: Iterable[Finding]) -> dict[str, dict[str, Any]]:
    """Topic -> document, for every batch."""
    by_tag: dict[str, list[Finding]] = {}
    for finding in found:
        if not finding.asleep:
            by_tag.setdefault(finding.batch, []).append(finding)
    return {f"{prefix}/{tag}": _document(batch, cellar, by_tag.get(tag, [])) for tag, batch in cellar.batches.items()}


def _document(batch: Batch, cellar: Cellar, found: list[Finding]) -> dict[str, Any]:
    latest = batch.latest
    musts = [each for each in batch.temperatures if not each.of_air]
    worst = max(found, key=lambda finding: finding.severity, default=None)
    return {
        "at": cellar.now.isoformat(),
        "batch": batch.tag,
        "name": batch.name,
        "stage": batch.stage,
        "state": judge(batch, cellar.settings, cellar.now).state,
        "sg": round(latest.sg, 4) if latest else None,
        "sg_at": latest.at.isoformat() if latest else None,
        "must_c": musts[-1].celsius if musts else None,
        "must_at": musts[-1].at.isoformat() if musts else None,
        "findings": len(found),
        "worst": worst
        and {
            "rule": worst.rule,
            "severity": worst.severity.word,
            "says": worst.says,
            "since": worst.since and worst.since.isoformat(),
        },
    }
