"""Fits the numbers of the prior (judgement/forecast/prior.py) to logs, to be judged on logs it has not seen.

    python -m tests.bench.fitting               fits both worlds, and prints them and how they do
    python -m tests.bench.fitting home          only what is believed of ferments at home, or in a `laboratory`
    python -m tests.bench.fitting --folds       fits without each fifth of the logs and scores that fifth

Steps one number at a time, and a step must pay for itself: every log counts alike, coverage counts beside loss, and
straying from where it began costs, for there are few logs. Sister batches stay in one fold. Skips, saying so, where
the logs are absent; nothing but the standard library is needed.
"""

from __future__ import annotations

import statistics
import sys
from collections import defaultdict
from dataclasses import replace

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.forecast.forecast import fan_of
from mustwatch.judgement.forecast.outlook import end_of
from mustwatch.judgement.forecast.paths import bands_of, paths_of, quantiles
from mustwatch.judgement.forecast.prior import HOME, LABORATORY, Beliefs, Worlds
from tests.bench.logs import LOGS, NOW, Log, batch_of, cuts, logs
from tests.bench.scoring import GROUPS, Tally

Case = tuple[Log, int, list[tuple[float, float]], Batch]

FOLDS = 5
CUTS_A_LOG = 7
STRAYING = 0.0015  # what a whole step costs, in shares of the goal
WORTH = 3e-4
FACTORS = {
    "rate_spread": 1.25, "lag": 1.2, "lag_spread": 1.2, "end_spread": 1.25, "reading_error": 1.25, "misfit": 1.35,
    "timing_days": 1.35, "future_misfit": 1.35, "pace_spread": 1.3, "halt_share": 1.4, "wake_share": 1.4,
    "shape_spread": 1.25, "stuck_reach": 1.25, "rate": 1.12,
}  # fmt: skip
SUMMANDS = {
    "shape": 0.1, "end": 1.5, "stuck_from": 0.2, "pace_drift": 0.06, "lag_with_rate": 0.2, "rate_per_point": 0.003,
}  # fmt: skip
SISTERS = (  # families of logs: one keeper, one must, or one trial
    ("003", "004"), ("005", "006"), ("032", "035", "038", "039"), ("040", "046"), ("050", "053"),
    ("055", "056", "057"), ("058", "062", "066"), ("068", "069", "070"), ("071", "073"), ("074", "076"),
    ("078", "080", "084", "086"),
)  # fmt: skip


# Where fitting begins: set by hand, before any of it was fitted, so that a fold knows nothing of the logs left out.
FIRST = Worlds(
    laboratory=replace(
        LABORATORY, rate=LABORATORY.rate | {"white-wine": 0.32, "ale": 0.24, "unknown": 0.29}, rate_spread=0.45,
        rate_per_point=-0.006, lag=1.6, lag_spread=0.6, lag_with_rate=-0.3, shape=-0.05, shape_spread=0.19, end=-10.0,
        end_spread=4.7, stuck_from=1.4, stuck_reach=2.0, reading_error=0.9, timing_days=0.055, pace_spread=0.16,
        pace_drift=0.0,
    ),
    home=replace(
        HOME, rate=HOME.rate | {"white-wine": 0.32, "ale": 0.20, "sparkling": 0.26, "unknown": 0.24}, lag_spread=0.7,
        end_spread=6.0, reading_error=0.9, timing_days=0.055, future_misfit=0.04, pace_spread=0.3, wake_share=0.3,
    ),
)  # fmt: skip


def cases() -> list[Case]:
    """Every cut of every log with its batch."""
    return [(log, count, later, batch_of(log, count)) for log in logs() for count, later in cuts(log)]


def family_of(log: Log) -> str:
    """The name of the family a log belongs to: its first member, or itself."""
    return next((family[0] for family in SISTERS if log["id"] in family), log["id"])


def side_of(case: Case) -> str:
    """The world its log belongs to."""
    return "home" if case[0]["source_kind"] == "hobby log" else "laboratory"


def is_foreseeable(case: Case) -> bool:
    """Whether its future is no feeding at the very time of the cut, from which nothing can be learnt."""
    log, count, later, _ = case
    return all(sg <= log["readings"][count - 1][1] + 0.020 for _, sg in later)


def thinned(every: list[Case], most: int = CUTS_A_LOG) -> list[Case]:
    """At most so many cuts of each log: the first three, and the rest spread evenly."""
    by_log: dict[str, list[Case]] = defaultdict(list)
    for case in every:
        by_log[case[0]["id"]].append(case)
    kept: list[Case] = []
    for own in by_log.values():
        late = own[3:]
        step = max(1.0, len(late) / (most - 3))
        kept += own[:3] + [late[int((n + 0.5) * step)] for n in range(min(most - 3, len(late)))]
    return kept


def scored(worlds: Worlds, chosen: list[Case]) -> Tally:
    """The tally of these cuts."""
    total = Tally()
    for log, count, later, batch in chosen:
        fan = fan_of(batch, NOW, worlds)
        if fan is None:
            continue
        paths, shown = paths_of(fan, [*(hours / 24 for hours, _ in later), 60.0]), fan.prior.beliefs.shown
        end = quantiles([end_of(path) for path in paths])[1]
        total.add(log, count, later, bands_of(paths, shown)[:-1], end)
    return total


def goal(worlds: Worlds, chosen: list[Case]) -> float:
    """What is made small: loss over logs, each log against its own naive forecast, and coverage off its mark."""
    tally = scored(worlds, chosen)
    every = tally.by_log()
    if every is None:
        return float("inf")
    own = [tally.by_log(lambda row, log=log: row.log == log) for log in {row.log for row in tally.rows}]
    alike = statistics.mean(min(2.0, one.loss / (one.best_naive + 2)) for one in own if one)
    off = max(0.0, abs(every.coverage - 0.8) - 0.02) ** 2
    for name in GROUPS:
        group = tally.by_log(GROUPS[name]) if "seen" in name else None
        if group is not None and group.logs > 2:
            off += 0.5 * max(0.0, abs(group.coverage - 0.8) - 0.06) ** 2
    return every.ratio + 0.7 * alike + 3 * off


def moved(beliefs: Beliefs, name: str, step: float) -> Beliefs:
    """The beliefs with one number moved."""
    if name == "rate":
        return replace(beliefs, rate={kind: rate * FACTORS[name] ** step for kind, rate in beliefs.rate.items()})
    value = getattr(beliefs, name)
    value = value + step * SUMMANDS[name] if name in SUMMANDS else value * FACTORS[name] ** step
    return replace(beliefs, **{name: min(0.95, value) if name.endswith("share") else value})


def fitted(side: str, chosen: list[Case], passes: int = 2) -> Worlds:
    """The two worlds after so many rounds of steps in one of them, each kept only where it helps."""
    worlds, strayed = FIRST, dict.fromkeys((*FACTORS, *SUMMANDS), 0.0)
    steps = dict.fromkeys(strayed, 1.0)
    best = goal(worlds, chosen)
    for _ in range(passes):
        for name in strayed:
            for signed in (steps[name], -steps[name]):
                tried = replace(worlds, **{side: moved(getattr(worlds, side), name, signed)})
                far = strayed | {name: strayed[name] + signed}
                value = goal(tried, chosen) + STRAYING * sum(one * one for one in far.values())
                if value < best - WORTH:
                    best, worlds, strayed, steps[name] = value, tried, far, signed
                    break
            else:
                steps[name] /= 2
    return worlds


def in_folds(side: str, every: list[Case]) -> Tally:
    """The tally of logs that were each forecast by numbers fitted without them."""
    total, families = Tally(), sorted({family_of(case[0]) for case in every})
    for fold in range(FOLDS):
        out = set(families[fold::FOLDS])
        learnt = [case for case in every if family_of(case[0]) not in out and is_foreseeable(case)]
        worlds = fitted(side, thinned(learnt))
        total.extend(scored(worlds, [case for case in every if family_of(case[0]) in out]))
    return total


def main() -> None:
    """Fits, and prints what was found."""
    if not LOGS.exists():
        print(f"skipped: the logs are not here ({LOGS.parent.name}/{LOGS.name} beside the repository)")
        return
    sides = [side for side in ("laboratory", "home") if side in sys.argv] or ["laboratory", "home"]
    total = Tally()
    for side in sides:
        every = [case for case in cases() if side_of(case) == side]
        if "--folds" in sys.argv:
            total.extend(in_folds(side, every))
            continue
        worlds = fitted(side, thinned([case for case in every if is_foreseeable(case)]))
        print(getattr(worlds, side))
        total.extend(scored(worlds, every))
    print(total.summary())


if __name__ == "__main__":
    main()
