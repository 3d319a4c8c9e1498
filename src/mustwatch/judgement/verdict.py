"""What is judged of a batch from its readings alone: how it moves, whether it rests, where it should end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

State = Literal["lag", "moving", "sluggish", "stalled", "undecided", "stable", "finished"]


@dataclass(frozen=True, slots=True)
class Rest:
    """How long the readings have agreed: days between the first and last of the agreeing readings.

    days 0 means no two readings agree. fed_since: sugar, water or yeast came in since, and nothing was read after it.
    """

    days: float
    readings: tuple[str, ...]
    since: datetime | None
    fed_since: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """The state of a batch with its evidence.

    state: None when nothing was pitched. fall: gravity points a day over the window, with its standard error;
    expected_end: (low, high) SG or None when start gravity or tolerance are not known;
    decide_on: when another reading would tell, for `undecided`;
    made_alcohol: (low, high) % vol so far or None; evidence: ids of the readings of the window;
    missing: facts not recorded, in words; since: when the state began, as far as readings show.
    confirmed: True when two successive reading days gave the same stall verdict;
    rest_needed: days the readings must agree before `stable` is said of this batch (7, or 14 where it is
    sweet, strong, cold or once stalled); may_hold: gravity points that could still ferment at the reading's
    worst, which `finished` does not rule out; slow_finish: standing still 4 to 10 points above the end;
    cuts: what was done since the readings began (sugar, water, racked, stabilised, repitched).
    """

    state: State | None
    since: datetime | None = None
    fall: float | None = None
    fall_error: float | None = None
    window_days: float | None = None
    expected_end: tuple[float, float] | None = None
    points_to_go: float | None = None
    made_alcohol: tuple[float, float] | None = None
    decide_on: datetime | None = None
    confirmed: bool = False
    rest: Rest = Rest(0.0, (), None)
    evidence: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    rest_needed: int = 7
    may_hold: float | None = None
    slow_finish: bool = False
    cuts: tuple[str, ...] = ()
