"""Sets the beliefs of the prior on some logs, to be judged on others.

Coordinate steps on a goal that counts later readings, logs and coverage alike, so that no long laboratory
series has the last word. Sister batches stand next to each other in the logs and stay in one fold.
"""

from __future__ import annotations

import statistics
from dataclasses import replace

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.forecast.forecast import fan_of
from mustwatch.judgement.forecast.outlook import _end
from mustwatch.judgement.forecast.paths import bands_of, paths_of, quantiles
from mustwatch.judgement.forecast.prior import BELIEFS, Beliefs
from tests.bench.logs import NOW, Log, batch_of, cuts, logs
from tests.bench.scoring import Tally

Case = tuple[Log, int, list[tuple[float, float]], Batch]

FOLDS = 5
FACTORS = (
    "rate_spread", "lag", "end_spread", "reading_error", "misfit", "timing_days", "future_misfit", "pace_spread",
    "halt_share", "wake_share", "wake_rate", "shape_spread", "rate", "rate_else", "rough",
)  # fmt: skip
STEPS = {"shape": 0.1, "end": 2.0, "stuck_from": 0.2, "carry": 0.25, "stop_slack": 5.0}
CUTS_A_LOG = 3


def cases() -> list[Case]:
    """Every cut of every log with its batch."""
    return [(log, count, later, batch_of(log, count)) for log in logs() for count, later in cuts(log)]


def fold_of(log: Log) -> int:
    """The fold a log belongs to; the largest family of sisters has one of its own."""
    number = int(log["id"]) if log["id"].isdigit() else 900
    bounds = ((67, 76, 0), (0, 6, 1), (32, 40, 1), (46, 57, 2), (58, 66, 3), (78, 86, 3))
    return next((fold for low, high, fold in bounds if low <= number <= high), FOLDS - 1)


def thinned(every: list[Case], most: int = CUTS_A_LOG) -> list[Case]:
    """At most so many cuts of each log, spread evenly."""
    by_log: dict[str, list[Case]] = {}
    for case in every:
        by_log.setdefault(case[0]["id"], []).append(case)
    kept = []
    for own in by_log.values():
        step = max(1.0, len(own) / most)
        kept += [own[int((n + 0.5) * step)] for n in range(min(most, len(own)))] if len(own) > most else own
    return kept


def scored(beliefs: Beliefs, chosen: list[Case]) -> tuple[Tally, dict[str, Tally]]:
    """The tally of these cuts, and one for each log."""
    total, by_log = Tally(), {}
    for log, count, later, batch in chosen:
        fan = fan_of(batch, NOW, beliefs)
        if fan is None:
            continue
        paths = paths_of(fan, [*(hours / 24 for hours, _ in later), 60.0])
        bands = bands_of(paths)[:-1]
        final = quantiles([_end(path) for path in paths])[1]
        for tally in (total, by_log.setdefault(log["id"], Tally())):
            tally.add(log, count, later, bands, final)
    return total, by_log


def goal(beliefs: Beliefs, chosen: list[Case]) -> float:
    """What is made small: loss over readings and over logs, and coverage off its mark."""
    total, by_log = scored(beliefs, chosen)
    logs_alike = statistics.mean(
        min(1.5, statistics.mean(t.losses) / t.best_naive) if t.best_naive else 1.0 for t in by_log.values()
    )
    coverage = statistics.mean(total.inside)
    by_logs = statistics.mean(statistics.mean(t.inside) for t in by_log.values())
    honey = statistics.mean(total.honey) if total.honey else 0.8
    final = statistics.median(total.final_half) if total.final_half else 0.0
    off = 3 * max(0.0, abs(coverage - 0.80) - 0.01) ** 2 + max(0.0, abs(by_logs - 0.80) - 0.03) ** 2
    return total.ratio + 0.5 * logs_alike + off + 3 * max(0.0, 0.75 - honey) ** 2 + 0.01 * final


def moved(beliefs: Beliefs, name: str, step: float) -> Beliefs:
    """The beliefs with one number moved."""
    if name in ("rate", "rate_else"):
        grape = ("white-wine", "sparkling", "high-tolerance")
        hit = {kind for kind in beliefs.rate if (kind in grape) == (name == "rate")}
        return replace(beliefs, rate={k: r * 1.2**step if k in hit else r for k, r in beliefs.rate.items()})
    if name == "rough":
        rough = {k: v if k == "white-wine" else max(1.0, v * 1.25**step) for k, v in beliefs.rough.items()}
        return replace(beliefs, rough=rough, rough_else=max(1.0, beliefs.rough_else * 1.25**step))
    value = getattr(beliefs, name)
    if name in STEPS:
        value += step * STEPS[name]
        return replace(beliefs, **{name: min(1.0, max(0.0, value)) if name == "carry" else value})
    return replace(beliefs, **{name: value * 1.35**step})


def tuned(chosen: list[Case], passes: int = 2, beliefs: Beliefs = BELIEFS) -> Beliefs:
    """The beliefs after so many rounds of steps, each kept only where it helps."""
    best = goal(beliefs, chosen)
    steps = dict.fromkeys((*FACTORS, *STEPS), 1.0)
    for _ in range(passes):
        for name, step in list(steps.items()):
            for signed in (step, -step):
                tried = moved(beliefs, name, signed)
                value = goal(tried, chosen)
                if value < best - 1e-4:
                    best, beliefs, steps[name] = value, tried, signed
                    break
            else:
                steps[name] = step / 2
    return beliefs
