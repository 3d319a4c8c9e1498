"""The fold: events in, batches out; any order, any prefix, any correction."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sample_story import PINNED, lines

from mustwatch.cellar.fold import fold
from mustwatch.ledger.clock import next_id
from mustwatch.ledger.codec import parse
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from mustwatch.ledger.settings import Settings

T0 = datetime(2026, 3, 1, 8, tzinfo=UTC)
NOW = T0 + timedelta(days=400)
SAMPLE = [parse(line) for line in lines()]


def tell(*happenings: tuple) -> list[Event]:
    """Events of the batch fir from (day, kind, keys)."""
    numbers = count(1)
    return [
        stamped(draft(kind, T0 + timedelta(days=day), "fir", **keys), f"id-{(n := next(numbers)):04d}", n)
        for day, kind, keys in happenings
    ]


def batch_of(*happenings: tuple, now: datetime = NOW):
    """The batch fir."""
    return fold(tell(*happenings), Settings(), now).batches["fir"]


def sg(value: float, **more) -> dict:
    """The keys of a gravity reading at 20 C."""
    return {"gravity": {"value": value, "sample_c": 20, **more}}


PITCHED = (0.1, "pitched", {"yeast": {"label": "y", "class": "ale"}})


@pytest.mark.parametrize(
    ("happenings", "stage"),
    [
        ([(0, "noted", {"note": "an idea"})], "planned"),
        ([(0, "mixed", {"name": "x"})], "must"),
        ([(0, "mixed", {}), PITCHED], "lag"),
        ([(0, "read", sg(1.080)), PITCHED, (2, "read", sg(1.078))], "lag"),
        ([(0, "read", sg(1.080)), PITCHED, (2, "read", sg(1.076))], "primary"),
        ([PITCHED, (1, "seen", {"airlock": "still"})], "lag"),
        ([PITCHED, (1, "seen", {"surface": "ring"})], "primary"),
        ([(0, "read", sg(1.080)), PITCHED, (20, "racked", {})], "secondary"),
        ([PITCHED, (20, "racked", {}), (21, "read", sg(0.998)), (28, "read", sg(0.998))], "secondary"),
        ([PITCHED, (20, "racked", {}), (21, "read", sg(0.998)), (40, "read", sg(0.997))], "ageing"),
        ([PITCHED, (60, "bottled", {"lots": [{"size_ml": 500, "count": 8}]})], "bottled"),
        ([PITCHED, (60, "bottled", {}), (90, "ended", {"outcome": "drunk"})], "ended"),
    ],
)
def test_the_stage_follows_from_what_happened(happenings: list, stage: str) -> None:
    """Derived, never set by hand: the same words must always mean the same state."""
    assert batch_of(*happenings).stage == stage


def test_a_reading_is_corrected_to_what_a_good_glass_would_have_read() -> None:
    """1.080 read at 35 C on a 15.56 C glass is 1.085: worked example, common practice, trade tables."""
    cellar = Settings(hydrometer_c=15.56)
    events = tell((0, "read", {"gravity": {"value": 1.080, "sample_c": 35}}))
    reading = fold(events, cellar, NOW).batches["fir"].readings[0]
    assert reading.sg == pytest.approx(1.085, abs=0.0015)
    assert reading.value == 1.080


def test_an_instrument_with_a_known_fault_is_put_right() -> None:
    """Its offset is the cellar's business, the ledger keeps what was seen."""
    events = tell((1, "read", sg(1.050, instrument="old glass")))
    glass = draft("instrument", T0, None, name="old glass", what="hydrometer", calibration_c=20, offset=-0.004)
    cellar = fold([stamped(glass, "a", 9), *events], Settings(), NOW)
    assert cellar.batches["fir"].readings[0].sg == pytest.approx(1.046)


@pytest.mark.parametrize(
    ("value", "doubted"), [(0.979, True), (0.985, False), (1.175, False), (1.190, True), (21.0, True)]
)
def test_a_gravity_no_must_can_have_is_kept_and_doubted(value: float, doubted: bool) -> None:
    """It stays in sight as written; no judgement rests on it."""
    reading = batch_of((0, "read", sg(value))).readings[0]
    assert (reading.doubt is not None) is doubted and reading.value == value


def test_a_refractometer_after_pitching_is_doubted() -> None:
    """Alcohol bends light as sugar does."""
    before, after = (
        batch_of(*happenings).readings[0]
        for happenings in (
            [(0, "read", sg(20, scale="brix", instrument="refractometer")), PITCHED],
            [PITCHED, (3, "read", sg(20, scale="brix", instrument="refractometer"))],
        )
    )
    assert before.doubt is None and after.doubt is not None


def test_a_fall_faster_than_yeast_is_doubted_until_a_later_reading_bears_it_out() -> None:
    """One slip of the pen must not end a fermentation; a second reading that agrees does."""
    start = [(0, "read", sg(1.100)), PITCHED]
    alone = batch_of(*start, (1, "read", sg(1.010)))
    assert alone.readings[-1].doubt and alone.latest.sg == pytest.approx(1.100)
    slip = batch_of(*start, (1, "read", sg(1.010)), (2, "read", sg(1.090)))
    assert slip.readings[1].doubt and slip.latest.sg == pytest.approx(1.090)
    real = batch_of(*start, (1, "read", sg(1.045)), (2, "read", sg(1.040)))
    assert not real.readings[1].doubt


@pytest.mark.parametrize(
    ("happenings", "kind"),
    [
        ([], None),
        ([(0, "closed", {"closure": "airlock"})], "airlock"),
        ([(0, "closed", {"closure": "airlock"}), (5, "racked", {})], None),
        (
            [(0, "closed", {"closure": "airlock"}), (5, "racked", {}), (5, "closed", {"closure": "tight-cap"})],
            "tight-cap",
        ),
        ([(0, "seen", {"airlock": "still"})], "airlock"),
        ([(0, "closed", {"closure": "tight-cap"}), (1, "seen", {"airlock": "bubbling"})], "tight-cap"),
        ([(0, "closed", {"closure": "blow-off"}), (1, "seen", {"airlock": "bubbling"})], "blow-off"),
    ],
)
def test_the_closure_is_what_was_last_recorded_for_this_vessel(happenings: list, kind: str | None) -> None:
    """A new vessel forgets the old closure, and bubbles do not open a tight cap."""
    batch = batch_of((0, "mixed", {}), *happenings)
    assert batch.closing.kind == kind
    assert batch.closing.vented is (kind in ("airlock", "blow-off"))


def test_sugar_fed_later_counts_into_the_whole_start() -> None:
    """500 g of sucrose in 5 l raise a must by about 38 points: sucrose density, CRC Handbook, about 10 %."""
    batch = batch_of(
        (0, "mixed", {"volume_l": 5}), (0.05, "read", sg(1.080)), PITCHED, (5, "read", sg(1.040)),
        (5, "added", {"what": "sugar", "category": "sugar", "g": 500}), (5.1, "read", sg(1.076)),
    )  # fmt: skip
    assert batch.whole_start_sg == pytest.approx(1.118, abs=0.003)
    assert [stretch.cut for stretch in batch.stretches] == ["start", "sugar"]


def test_the_start_is_estimated_from_the_recipe_only_when_it_was_not_measured() -> None:
    """1.5 kg honey in 4.5 l: 35 to 38 points a pound a US gallon, common practice, gives 1.097 to 1.106."""
    mixed = (0, "mixed", {"volume_l": 4.5, "ingredients": [{"what": "honey", "category": "honey", "kg": 1.5}]})
    guessed = batch_of(mixed, PITCHED)
    assert guessed.start is None and guessed.start_sg == pytest.approx(1.102, abs=0.005)
    assert batch_of(mixed, (0.05, "read", sg(1.09)), PITCHED).start_sg == pytest.approx(1.09)


def test_a_correction_a_withdrawal_and_a_withdrawn_withdrawal() -> None:
    """The latest word counts, and the ledger keeps them all."""
    base = [(0, "read", sg(1.500)), (0.2, "swirled", {})]
    assert batch_of(*base, (1, "amended", {"target": "id-0001", "set": {"gravity.value": 1.05}})).latest.sg == 1.05
    assert len(batch_of(*base, (1, "withdrew", {"target": "id-0002"})).story) == 1
    undone = batch_of(*base, (1, "withdrew", {"target": "id-0002"}), (2, "withdrew", {"target": "id-0003"}))
    assert len(undone.story) == 2


def test_a_correction_that_does_not_fit_is_told_and_changes_nothing() -> None:
    """A fold never breaks on what somebody else's program wrote."""
    events = tell((0, "read", sg(1.05)), (1, "amended", {"target": "id-0001", "set": {"ph": "sour"}}))
    cellar = fold(events, Settings(), NOW)
    assert cellar.batches["fir"].latest.sg == 1.05
    assert cellar.refused[0].act.id == "id-0002"


def test_what_happens_after_now_is_not_seen() -> None:
    """So that a cellar can be looked at as it stood."""
    batch = batch_of((0, "read", sg(1.09)), (10, "read", sg(1.05)), now=T0 + timedelta(days=5))
    assert len(batch.readings) == 1


def test_bottles_are_counted() -> None:
    """Made less taken, whatever they were taken for."""
    lots = [{"size_ml": 500, "count": 8}, {"size_ml": 330, "count": 2}]
    batch = batch_of(PITCHED, (60, "bottled", {"lots": lots}), (70, "took", {"count": 3, "why": "given"}))
    assert (batch.bottles_made, batch.bottles_left) == (10, 7)


def test_an_unchanged_batch_is_taken_from_the_fold_before() -> None:
    """One new reading must not cost a thousand batches their work."""
    events = SAMPLE
    first = fold(events, Settings(), PINNED)
    extra = stamped(draft("swirled", PINNED - timedelta(hours=1), "acacia-1"), "zz", 1)
    second = fold([*events, extra], Settings(), PINNED, first)
    assert second.batches["buckwheat"] is first.batches["buckwheat"]
    assert second.batches["acacia-1"].revision != first.batches["acacia-1"].revision


@settings(max_examples=25, deadline=None)
@given(st.integers(0, len(SAMPLE)))
def test_any_prefix_of_a_ledger_folds(length: int) -> None:
    """A ledger cut anywhere, or still arriving, is a cellar too."""
    fold(SAMPLE[:length], Settings(), PINNED)


@settings(max_examples=15, deadline=None)
@given(st.permutations(range(len(SAMPLE))))
def test_any_order_of_arrival_in_ledger_order_gives_the_same_cellar(order: list[int]) -> None:
    """The store puts lines into ledger order whatever order they came in; after that nothing may differ."""
    shuffled = sorted((SAMPLE[place] for place in order), key=lambda event: event.id)
    assert fold(shuffled, Settings(), PINNED) == fold(sorted(SAMPLE, key=lambda e: e.id), Settings(), PINNED)


def test_a_must_far_down_has_fermented_though_its_start_is_not_known() -> None:
    """Nobody mixes a must of 1.010: who wrote down no start still has a ferment on the way."""
    assert batch_of((0, "mixed", {}), PITCHED, (19, "read", sg(1.010))).stage == "primary"
    assert batch_of((0, "mixed", {}), PITCHED, (19, "read", sg(1.060))).stage == "lag"


@pytest.mark.parametrize("cover", ["cloth", "loose-cap"])
def test_bubbles_under_a_cover_do_not_make_it_an_airlock(cover: str) -> None:
    """A bucket under cloth bubbles too; taken for an airlock nobody would be told to fit one."""
    batch = batch_of((0, "closed", {"closure": cover}), (1, "seen", {"airlock": "bubbling"}))
    assert batch.closing.kind == cover


def test_a_reading_written_down_after_a_feeding_of_the_same_day_comes_after_it() -> None:
    """A diary knows the day alone: both stand at noon, and only the order of the lines tells."""
    honey = (5, "added", {"what": "honey", "category": "honey", "g": 400})
    story = ((0, "mixed", {"volume_l": 5}), (0, "read", sg(1.110)), PITCHED, (5, "read", sg(1.030)))
    after = batch_of(*story, honey, (5, "read", sg(1.054)))
    assert [[reading.value for reading in part.readings] for part in after.stretches] == [[1.110, 1.030], [1.054]]
    before = batch_of(*story, honey)
    assert [len(part.readings) for part in before.stretches] == [2, 0]


def _dated(at: datetime, event_id: str, **keys) -> Event:
    return stamped(draft("closed", at, "fir", **keys), event_id, None)


def test_what_is_dated_into_the_future_is_told_and_a_corrected_date_counts():
    """A tight cap dated into next year by a slip is on the jug today, and correcting its date must help at once."""
    now = datetime(2026, 5, 14, tzinfo=UTC)
    written = next_id(None, now - timedelta(days=1))
    airlock = _dated(now - timedelta(days=9), next_id(None, now - timedelta(days=9)), closure="airlock")
    slip = _dated(now + timedelta(days=364), written, closure="tight-cap")
    batch = fold([airlock, slip], Settings(), now).batches["fir"]
    assert (batch.closing.kind, batch.ahead) == (None, (slip,))
    fix = draft("amended", now, target=written, set={"at": (now - timedelta(days=1)).isoformat()})
    mended = fold([airlock, slip, stamped(fix, next_id(written, now), None)], Settings(), now).batches["fir"]
    assert (mended.closing.kind, mended.ahead) == ("tight-cap", ())


def test_looking_back_sees_nothing_dated_ahead():
    """Seen from last week, what was written down since is not a slip of the pen."""
    now = datetime(2026, 5, 14, tzinfo=UTC)
    first = _dated(now, next_id(None, now), closure="airlock")
    later = _dated(now + timedelta(days=9), next_id(None, now + timedelta(days=9)), closure="tight-cap")
    assert fold([first, later], Settings(), now).batches["fir"].ahead == ()


MIXED = {"volume_l": 5, "vessel": {"kind": "bucket", "capacity_l": 6}}
UNDER_WAY = [
    PITCHED,
    (0.2, "closed", {"closure": "airlock"}),
    (1, "read", sg(1.080)),
    (9, "racked", {"vessel": {"kind": "carboy", "capacity_l": 5}, "volume_l": 4.5}),
    (9.1, "closed", {"closure": "solid-bung"}),
    (10, "read", sg(1.000)),
]


def test_who_registers_a_batch_under_way_mixes_it_today_and_dates_the_rest_back() -> None:
    """The mixing was written down first: it is the beginning, and takes no later closure, vessel or proof away."""
    batch = batch_of((20, "mixed", MIXED), *UNDER_WAY)
    assert batch.mixed_on_top is None and "sugar" not in {stretch.cut for stretch in batch.stretches}
    assert (batch.closing.kind, batch.vessel_kind, batch.volume_l) == ("solid-bung", "carboy", 4.5)


def test_what_is_mixed_on_top_of_what_was_there_begins_anew() -> None:
    """Written down after the rest, it is another must in the vessel, closed by nobody knows what."""
    batch = batch_of(*UNDER_WAY, (20, "mixed", MIXED))
    assert batch.mixed_on_top is not None and batch.stretches[-1].cut == "sugar"
    assert (batch.closing.kind, batch.vessel_kind, batch.volume_l) == (None, "bucket", 5)


def test_what_was_taken_back_since_does_not_come_alive_again_in_a_look_back() -> None:
    """Everything known today counts: an undone dose never was in the must, whenever it was undone."""
    then = T0 + timedelta(days=2)
    dose = (1, "added", {"what": "sulfite", "category": "sulfite", "g": 2})
    assert len(batch_of(dose, now=then).additions) == 1
    assert "fir" not in fold(tell(dose, (5, "withdrew", {"target": "id-0001"})), Settings(), then).batches


def test_what_was_corrected_since_is_corrected_in_a_look_back_and_so_is_its_date() -> None:
    """A misread glass was misread then too; a date put right brings its entry to the day it belongs to."""
    then = T0 + timedelta(days=2)
    slip = [(0, "read", sg(1.500)), (9, "closed", {"closure": "tight-cap"})]
    right = (12, "amended", {"target": "id-0001", "set": {"gravity.value": 1.05}})
    moved = (12, "amended", {"target": "id-0002", "set": {"at": (T0 + timedelta(days=1)).isoformat()}})
    batch = batch_of(*slip, right, moved, now=then)
    assert (batch.latest.sg, batch.closing.kind) == (1.05, "tight-cap")


def test_a_start_gravity_may_be_read_until_twelve_hours_after_pitching() -> None:
    """Judgement of the trade: until then nothing has fermented yet; a minute later it is a reading like others."""
    pitched = (0, "pitched", {"yeast": {"label": "y", "class": "ale"}})
    assert batch_of(pitched, (0.5, "read", sg(1.09))).start is not None
    assert batch_of(pitched, (0.5 + 1 / 1440, "read", sg(1.09))).start is None
