"""Fits the numbers of the prior (judgement/forecast/prior.py) to logs, to be judged on logs it has not seen.

    python -m tests.bench.fitting home          fits what is believed of ferments at home, and prints it
    python -m tests.bench.fitting laboratory    the same for laboratory musts
    python -m tests.bench.fitting home --folds  fits without each fifth of the logs and scores that fifth

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
from mustwatch.judgement.forecast.prior import WORLDS, Beliefs, Worlds
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


def cases() -> list[Case]:
    """Every cut of every log with its batch."""
    return [(log, count, later, batch_of(log, count)) for log in logs() for count, later in cuts(log)]


def family_of(log: Log) -> str:
    """The name of the family a log belongs to: its first member, or itself."""
    return next((family[0] for family in SISTERS if log["id"] in family), log["id"])


def is_home(case: Case) -> bool:
    """Whether its log was kept at home, and its future is no feeding at the very time of the cut."""
    log, count, later, _ = case
    fed = any(sg > log["readings"][count - 1][1] + 0.020 for _, sg in later)
    return log["source_kind"] == "hobby log" and not fed


def is_laboratory(case: Case) -> bool:
    """Whether its log is a laboratory's."""
    return case[0]["source_kind"] != "hobby log"


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
    worlds, strayed = WORLDS, dict.fromkeys((*FACTORS, *SUMMANDS), 0.0)
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
        worlds = fitted(side, thinned([case for case in every if family_of(case[0]) not in out]))
        total.extend(scored(worlds, [case for case in every if family_of(case[0]) in out]))
    return total


def main() -> None:
    """Fits, and prints what was found."""
    if not LOGS.exists():
        print(f"skipped: the logs are not here ({LOGS.parent.name}/{LOGS.name} beside the repository)")
        return
    side = sys.argv[1] if len(sys.argv) > 1 else "home"
    every = [case for case in cases() if (is_home if side == "home" else is_laboratory)(case)]
    if "--folds" in sys.argv:
        print(in_folds(side, every).summary())
        return
    worlds = fitted(side, thinned(every))
    print(getattr(worlds, side))
    print(scored(worlds, every).summary())


if __name__ == "__main__":
    main()
