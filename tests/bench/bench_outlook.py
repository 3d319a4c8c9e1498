"""How good the outlook is on the real logs beside the repository; skipped, saying so, where they are absent.

python -m tests.bench.bench_outlook            scores the shipped beliefs, fold by fold, and the time taken
python -m tests.bench.bench_outlook --folds    sets the beliefs anew without each fold and scores that fold:
                                               the honest figure (an hour on a small machine)
python -m tests.bench.bench_outlook --tune     sets them on all logs and prints them
pytest tests/bench/bench_outlook.py            holds the shipped beliefs to the bars

Measured on 41 logs, 267 cuts, 1419 later readings, with the shipped beliefs: loss 0.25 of the best naive forecast,
coverage 0.82 (honey alone 0.75), end within 1.9 points (median, from half the drop on), stalls 4 of 5, false 1 of 28.
With beliefs set on other logs only, from the first guess on: loss 0.27, coverage 0.89, honey 0.80, end 2.4 points
with families of sister batches held out; 0.28, 0.86, 0.84 and 2.0 with every second log held out. The bands were
narrowed a little by hand afterwards (coverage 0.85 to 0.82 on all logs).

What limits going further: more than half of the loss that is left lies in cuts after the second and third reading,
where neither lag nor rate is known and no curve can help; sister musts end up to ten points apart; stands and new
starts are not foretold by gravity alone; and some logs hold an unmixed start, a refractometer read as a glass or a
reading of another vessel. The stall that is missed shows its stand only in its very last reading.
"""

from __future__ import annotations

import statistics
import sys
import time

import pytest

from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.judgement.forecast.prior import BELIEFS
from mustwatch.judgement.state import judge
from mustwatch.ledger.settings import Settings
from tests.bench.logs import LOGS, NOW
from tests.bench.scoring import Tally
from tests.bench.tuning import FOLDS, cases, fold_of, scored, thinned, tuned

ABSENT = f"the logs are not here ({LOGS.parent.name}/{LOGS.name} beside the repository)"


@pytest.mark.skipif(not LOGS.exists(), reason=ABSENT)
def test_the_forecast_meets_its_bars_on_the_real_logs():
    """Loss against the best naive forecast, coverage, honey alone, and the end from half the drop on."""
    total, _ = scored(BELIEFS, cases())
    assert total.ratio <= 0.45
    assert 0.75 <= statistics.mean(total.inside) <= 0.85
    assert statistics.mean(total.honey) >= 0.65
    assert statistics.median(total.final_half) <= 3.0


@pytest.mark.skipif(not LOGS.exists(), reason=ABSENT)
def test_stalls_are_found_and_finished_logs_left_alone():
    """Four in five, and one in twenty."""
    found, stalled, finished = stall_counts()
    assert len(found & stalled) >= 0.8 * len(stalled)
    assert len(found & finished) <= len(finished) / 20


def stall_counts() -> tuple[set[str], set[str], set[str]]:
    """(logs called stalled at some cut, logs that stalled, logs that finished)."""
    found, stalled, finished = set(), set(), set()
    for log, _, _, batch in cases():
        if log["outcome"].startswith("stalled"):
            stalled.add(log["id"])
        if log["outcome"] == "finished":
            finished.add(log["id"])
        if judge(batch, Settings(), NOW).state == "stalled":
            found.add(log["id"])
    return found, stalled, finished


def _times() -> str:
    batches = [case[3] for case in cases()][::3]
    outlook(batches[0], Settings(), NOW)
    began = time.process_time()
    for batch in batches[1:]:
        outlook(batch, Settings(), NOW)
    each = (time.process_time() - began) / len(batches[1:]) * 1000
    began = time.process_time()
    for n in range(100):
        outlook(batches[n % len(batches)], Settings(), NOW)
    warm = time.process_time() - began
    began = time.process_time()
    for n in range(1000):
        judge(batches[n % len(batches)], Settings(), NOW)
    judged = time.process_time() - began
    return f"one outlook {each:.1f} ms, a hundred warm {warm:.3f} s, a thousand judged {judged:.2f} s (processor time)"


def _fold_by_fold(anew: bool) -> None:
    every, total = cases(), Tally()
    for fold in range(FOLDS):
        others = thinned([case for case in every if fold_of(case[0]) != fold])
        beliefs = tuned(others) if anew else BELIEFS
        tally, _ = scored(beliefs, [case for case in every if fold_of(case[0]) == fold])
        print(f"fold {fold}: {tally.summary()}", flush=True)
        total.extend(tally)
    print(f"all:    {total.summary()}")


def main() -> None:
    """Prints the scores."""
    if not LOGS.exists():
        print(f"skipped: {ABSENT}")
        return
    if "--tune" in sys.argv:
        print(tuned(thinned(cases(), 4), passes=3))
        return
    _fold_by_fold(anew="--folds" in sys.argv)
    found, stalled, finished = stall_counts()
    print(f"stalls found {len(found & stalled)}/{len(stalled)}, false {len(found & finished)}/{len(finished)}")
    print(_times())


if __name__ == "__main__":
    main()
