"""What is believed of a fermentation before its readings: rate, lag, shape and end, by yeast, warmth and strength.

Centres and spreads were set by hand near what hobby logs and open laboratory series show, then refined on
such logs in folds (tests/bench/bench_outlook.py); they are beliefs, wide on purpose, not measurements.
"""

from dataclasses import dataclass, field
from math import log


@dataclass(frozen=True, slots=True)
class Beliefs:
    """The numbers of the prior, one place to change them.

    rate: share of the way a day at 21 °C and 100 points, by yeast class; rough: how many times less steady than
    a laboratory's such a ferment runs; spreads are of logarithms for rate, lag and pace, points for the end;
    stuck_from: how many deviations out the end leaves the dry floor; misfit, future_misfit: shares of the drop
    by which no course of this form fits, so far and to come; halt, wake: shares that come to a stand by
    chance, and that work again after one; carry: how much of the last reading's miss is kept.
    """

    rate: dict[str, float] = field(
        default_factory=lambda: {
            "bread": 0.27,
            "ale": 0.24,
            "lager": 0.17,
            "white-wine": 0.32,
            "sparkling": 0.26,
            "high-tolerance": 0.26,
            "unknown": 0.29,
        }
    )
    rough: dict[str, float] = field(
        default_factory=lambda: {"white-wine": 1.0, "sparkling": 1.4, "high-tolerance": 1.4, "ale": 1.9, "unknown": 1.9}
    )
    rough_else: float = 1.7
    honey_rate: float = 0.6  # honey feeds yeast poorly: the logs of mead run about so much slower
    rate_spread: float = 0.45
    rate_roughness: float = 1.0
    rate_tail: float = 0.08
    rate_per_degree: float = 0.06
    rate_per_point: float = -0.006
    lag: float = 1.6
    lag_spread: float = 0.6
    lag_with_rate: float = -0.3
    shape: float = -0.05
    shape_spread: float = 0.19
    end: float = -10.0
    end_honey: float = -3.0
    end_spread: float = 4.7
    stuck_from: float = 1.4
    stuck_reach: float = 2.0
    start_error: float = 1.5
    reading_error: float = 0.9
    misfit: float = 0.015
    timing_days: float = 0.055
    future_misfit: float = 0.025
    pace_spread: float = 0.16
    halt_share: float = 0.04
    halt_pace: float = 0.1
    wake_share: float = 0.3
    wake_rate: float = 0.055
    carry: float = 1.0
    stop_slack: float = 9.0
    stop_spread: float = 0.3
    freedom: float = 4.0


BELIEFS = Beliefs()


@dataclass(frozen=True, slots=True)
class Prior:
    """Centres for one course. log_rate, log_lag: natural logarithms, of a day's share and of days; gravities: points.

    rough: how much less steady than a laboratory's such a ferment runs.
    """

    log_rate: float
    log_lag: float
    shape: float
    end: float
    end_spread: float
    start: float
    start_error: float
    rough: float
    rate_rough: float
    beliefs: Beliefs


def prior_for(
    *,
    yeast_class: str,
    must_c: float | None,
    start_points: float,
    start_error: float,
    honey: bool,
    stop_points: float | None,
    active: bool,
    beliefs: Beliefs = BELIEFS,
) -> Prior:
    """The prior of a course that starts at `start_points`.

    must_c: mean must temperature, °C, None where unknown; stop_points: where the yeast's tolerance would stop it;
    active: yeast already at work when it starts, as after a feeding.
    """
    warmth = 0.0 if must_c is None else max(-12.0, min(9.0, must_c - 21.0))
    rate = beliefs.rate.get(yeast_class, beliefs.rate["unknown"]) * (beliefs.honey_rate if honey else 1.0)
    log_rate = (
        log(rate)
        + beliefs.rate_per_degree * warmth
        + beliefs.rate_per_point * max(-60.0, min(60.0, start_points - 100))
    )
    log_lag = log(beliefs.lag) - beliefs.rate_per_degree * warmth - (1.6 if active else 0.0)
    floor = beliefs.end_honey if honey else beliefs.end
    end = floor if stop_points is None else max(floor, stop_points - beliefs.stop_slack)
    spread = beliefs.end_spread + beliefs.stop_spread * (end - floor)
    rough = beliefs.rough.get(yeast_class, beliefs.rough_else)
    if honey:
        rough = max(rough, beliefs.rough_else)
    return Prior(
        log_rate=log_rate,
        log_lag=log_lag,
        shape=beliefs.shape,
        end=end,
        end_spread=spread,
        start=start_points,
        start_error=start_error,
        rough=rough,
        rate_rough=rough**beliefs.rate_roughness,
        beliefs=beliefs,
    )
