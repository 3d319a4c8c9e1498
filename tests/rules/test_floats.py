"""What rules say of a batch that only a floating instrument reads."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from mustwatch.cellar.fold import fold
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.settings import Settings
from mustwatch.rules.engine import judge_cellar

BEGAN = datetime(2026, 3, 1, 9, tzinfo=UTC)


@pytest.mark.parametrize(("floats", "said"), [(True, "not read with a hydrometer since"), (False, "not read since")])
def test_a_seal_names_the_hydrometer_where_a_float_was_read(floats, said):
    """`It was not read` beside a reading of today would contradict itself."""
    events = [
        draft("mixed", BEGAN, "fir", volume_l=4.5),
        draft("read", BEGAN, "fir", gravity={"value": 1.092, "sample_c": 20}),
        draft("pitched", BEGAN + timedelta(hours=1), "fir", yeast={"class": "ale"}),
        draft("closed", BEGAN + timedelta(hours=3), "fir", closure="tight-cap"),
    ]
    if floats:
        gravity = {"value": 1.09, "instrument": "float", "error": 0.004}
        events.append(draft("read", BEGAN + timedelta(hours=4), "fir", gravity=gravity, probe="float", n=60))
    told = [stamped(event, f"id-{n:04}", n) for n, event in enumerate(events)]
    now = BEGAN + timedelta(hours=5)
    found = judge_cellar(fold(told, Settings(), now), now)
    assert said in next(each for each in found if each.rule == "sealed-while-alive").says
