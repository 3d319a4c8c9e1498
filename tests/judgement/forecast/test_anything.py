"""Whatever a log holds, an outlook comes out, in order and finite."""

import json
import math
import random

import pytest
from fermenting import SETTINGS, bottled, closed, day, event, fermenting, honey, racked, sorbate

from mustwatch.judgement.forecast.outlook import outlook
from mustwatch.ledger.events import Pitched
from mustwatch.ledger.visible import plain_json
from mustwatch.said.outlook import words_of
from mustwatch.said.outlook_json import to_json

LOTS = [{"size_ml": 330, "count": 12, "bottle": "beer", "closure": "crown-cap"}]


def _anything(seed):
    chance = random.Random(seed)
    days = sorted(chance.choice((0, 0, 0.01, 1, 3, 8, 30, 200)) * chance.random() for _ in range(chance.randint(0, 9)))
    readings = [(at, round(chance.uniform(0.981, 1.179), 3)) for at in days]
    makers = (
        honey, sorbate, closed, racked, lambda at: bottled(at, lots=LOTS, priming={"what": "sugar", "g": 20}),
        lambda at: event(Pitched, at, yeast={"class": "ale"}),
    )  # fmt: skip
    extra = [chance.choice(makers)(chance.uniform(0, 60)) for _ in range(chance.randint(0, 3))]
    tolerance = chance.choice((None, 0.0, 5.0, 14.0, 30.0))
    until = max([*days, 60.0]) + chance.choice((0, 0.01, 400))
    must_c = chance.choice((None, -5.0, 20.0, 60.0))
    return fermenting(readings, until=until, extra=extra, tolerance=tolerance, must_c=must_c), until


@pytest.mark.parametrize("seed", range(36))
def test_an_outlook_comes_out_of_anything(seed):
    """Readings out of order of nature, no start, absurd tolerance, feedings after bottling."""
    batch, until = _anything(seed)
    found = outlook(batch, SETTINGS, day(until))
    assert all(m.p10 <= m.p50 <= m.p90 and m.p10 > 0.9 and m.p90 < 1.3 for m in found.course)
    assert found.stall_probability is None or 0 <= found.stall_probability <= 1
    if found.sealing is not None:
        assert all(math.isfinite(high) and 0 <= low <= high for _, low, high in found.sealing.bars)
    assert json.loads(plain_json(to_json(found, batch)))["batch"] == "made"
    assert words_of(found, batch)
