"""What is believed of a fermentation before its readings: rate, lag, shape and end, by yeast, strength and keeping.

Two worlds: what is read finer than any hydrometer shows, a laboratory's sugar must, and what is kept at home. Their
numbers were fitted apart, on laboratory series and on hobby logs, each log with the same weight
(tests/bench/fitting.py fits them anew); they are beliefs, wide on purpose, not measurements.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import log
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Beliefs:
    """The numbers of the prior in one world, one place to change them.

    rate: share of the way a day at 21 °C and 100 points, by yeast class; rough: how many times less steady than usual
    a ferment of such a yeast runs; spreads are of logarithms for rate, lag and pace, points for the end;
    stuck_from: how many deviations out the end leaves the dry floor; misfit, future_misfit: shares of the drop
    by which no course of this form fits, so far and to come; pace_drift: how much slower it goes on than it went;
    halt, wake: shares that come to a stand by chance, and that work again after one; carry: how much of the last
    reading's miss is kept; shown: the shares of courses between which eight readings in ten fell;
    stops_per_day: how many in a day come to a stand unseen.
    """

    rate: Mapping[str, float]
    rate_spread: float
    lag: float
    lag_spread: float
    lag_with_rate: float
    shape: float
    shape_spread: float
    end: float
    end_honey: float
    end_spread: float
    stuck_from: float
    stuck_reach: float
    reading_error: float
    misfit: float
    timing_days: float
    future_misfit: float
    pace_spread: float
    pace_drift: float
    halt_share: float
    wake_share: float
    rate_per_point: float
    honey_rate: float = 0.6  # honey feeds yeast poorly; at home other musts run nearly as slow
    rate_tail: float = 0.08
    rate_per_degree: float = 0.06
    rough: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    rough_else: float = 1.0
    shown: tuple[float, float, float] = (0.1, 0.5, 0.9)
    stops_per_day: float = 0.008  # some one ferment in seven to nine stops early, within two or three weeks
    halt_pace: float = 0.1
    wake_rate: float = 0.055
    carry: float = 1.0
    stop_slack: float = 9.0
    stop_spread: float = 0.3
    freedom: float = 4.0


LABORATORY = Beliefs(
    rate=MappingProxyType(
        {
            "bread": 0.27,
            "ale": 0.24,
            "lager": 0.17,
            "white-wine": 0.34,
            "sparkling": 0.275,
            "high-tolerance": 0.275,
            "unknown": 0.305,
        }
    ),
    rough=MappingProxyType({"white-wine": 1.0, "sparkling": 1.4, "high-tolerance": 1.4, "ale": 1.9, "unknown": 1.9}),
    rough_else=1.7,
    rate_spread=0.35,
    rate_per_point=-0.0074,
    lag=1.36,
    lag_spread=0.47,
    lag_with_rate=-0.25,
    shape=-0.115,
    shape_spread=0.194,
    end=-11.5,
    end_honey=-3.0,
    end_spread=4.0,
    stuck_from=1.53,
    stuck_reach=2.4,
    reading_error=1.1,
    misfit=0.015,
    timing_days=0.065,
    future_misfit=0.025,
    pace_spread=0.17,
    pace_drift=-0.08,
    halt_share=0.04,
    wake_share=0.3,
    shown=(0.1, 0.5, 0.9),
)
HOME = Beliefs(
    rate=MappingProxyType(
        {
            "bread": 0.27,
            "ale": 0.22,
            "lager": 0.17,
            "white-wine": 0.36,
            "sparkling": 0.29,
            "high-tolerance": 0.29,
            "unknown": 0.27,
        }
    ),
    rate_spread=0.8,
    rate_per_point=-0.006,
    lag=1.6,
    lag_spread=0.84,
    lag_with_rate=-0.3,
    shape=0.1,
    shape_spread=0.35,
    end=-3.0,
    end_honey=0.0,
    end_spread=7.5,
    stuck_from=1.2,
    stuck_reach=2.0,
    reading_error=1.1,
    misfit=0.02,
    timing_days=0.04,
    future_misfit=0.03,
    pace_spread=0.39,
    pace_drift=0.0,
    halt_share=0.08,
    wake_share=0.42,
    honey_rate=0.9,
    stops_per_day=0.035,
    shown=(0.05, 0.5, 0.94),  # courses stranger than any curve: so wide a band held most of what was left out
)
START_ERROR = 1.5  # points: the first reading of a must, seldom wholly mixed; a judgement


@dataclass(frozen=True, slots=True)
class Worlds:
    """What is believed of ferments in a laboratory, and of those kept at home."""

    laboratory: Beliefs = LABORATORY
    home: Beliefs = HOME


WORLDS = Worlds()


@dataclass(frozen=True, slots=True)
class Prior:
    """Centres for one course. log_rate, log_lag: natural logarithms, of a day's share and of days; gravities: points.

    rough: how much less steady than usual such a ferment runs.
    """

    log_rate: float
    log_lag: float
    shape: float
    end: float
    end_spread: float
    start: float
    start_error: float
    rough: float
    beliefs: Beliefs


def prior_for(
    *,
    yeast_class: str,
    start_points: float,
    start_error: float,
    honey: bool,
    stop_points: float | None,
    active: bool,
    beliefs: Beliefs = HOME,
) -> Prior:
    """The prior of a course that starts at `start_points`, at 21 °C.

    stop_points: where the yeast's tolerance would stop it; active: yeast already at work when it starts, as after a
    feeding.
    """
    rate = beliefs.rate.get(yeast_class, beliefs.rate["unknown"]) * (beliefs.honey_rate if honey else 1.0)
    floor = beliefs.end_honey if honey else beliefs.end
    end = floor if stop_points is None else max(floor, stop_points - beliefs.stop_slack)
    rough = beliefs.rough.get(yeast_class, beliefs.rough_else)
    return Prior(
        log_rate=log(rate) + beliefs.rate_per_point * max(-60.0, min(60.0, start_points - 100)),
        log_lag=log(beliefs.lag) - (1.6 if active else 0.0),
        shape=beliefs.shape,
        end=end,
        end_spread=beliefs.end_spread + beliefs.stop_spread * (end - floor),
        start=start_points,
        start_error=start_error,
        rough=rough,
        beliefs=beliefs,
    )
