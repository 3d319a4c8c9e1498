"""The words for where a batch stands: facts not recorded are named, and the danger word is a word."""

from __future__ import annotations

from datetime import timedelta

from sample_story import PINNED, lines

from mustwatch.cellar.fold import fold
from mustwatch.judgement.state import Verdict, judge
from mustwatch.ledger.clock import next_id
from mustwatch.ledger.codec import parse
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.settings import Settings
from mustwatch.said.standing import standing

CELLAR = fold([parse(line) for line in lines()], Settings(), PINNED)


def test_a_seal_and_an_unknown_closure_are_written_in_capitals() -> None:
    """They must be seen without colour, in a list, from a metre away."""
    words = {tag: dict(standing(batch, Verdict(None), PINNED))["closure"] for tag, batch in CELLAR.batches.items()}
    assert "SEALED" in words["lime-blossom"]
    assert words["bean-flower"].startswith("NOT KNOWN")
    assert words["acacia-1"].startswith("airlock (vented)")


def test_every_batch_of_the_sample_has_a_line_for_each_question() -> None:
    """No fact is left out silently: what is not known says so."""
    for batch in CELLAR.batches.values():
        labels = [label for label, text in standing(batch, judge(batch, Settings(), PINNED), PINNED) if text]
        assert {"stage", "closure", "gravity", "alcohol", "yeast", "warmth", "vessel"} <= set(labels)


def _told(*happenings: tuple[float, str, dict]) -> dict[str, str]:
    start = PINNED - timedelta(days=60)
    events = [draft(kind, start + timedelta(days=days), "ash-1", **keys) for days, kind, keys in happenings]
    events = [stamped(event, next_id(None, event.at), number + 1) for number, event in enumerate(events)]
    batch = fold(events, Settings(), PINNED).batches["ash-1"]
    return dict(standing(batch, judge(batch, Settings(), PINNED), PINNED))


HONEY = {"volume_l": 10, "ingredients": [{"what": "honey", "category": "honey", "kg": 3}]}
READ = {"gravity": {"value": 1.000, "sample_c": 20}}


def test_a_start_reckoned_from_the_recipe_gives_a_wider_range_of_alcohol() -> None:
    """The recipe is good to ten points either way, and every page says so alike."""
    reckoned = _told((0, "mixed", HONEY), (0.1, "pitched", {}), (30, "read", READ))["alcohol"]
    low, high = (float(word) for word in reckoned.split("(")[1].split(",")[0].split(" to "))
    assert "from the recipe" in reckoned and high - low > 2 * 0.010 * 1000 / 7.6


def test_what_is_left_in_a_vessel_after_a_bottling_keeps_its_closure() -> None:
    """Half a carboy bottled and the rest under a bung must not read as bottles alone."""
    lot = {"size_ml": 750, "count": 6, "bottle": "still-wine", "closure": "cork"}
    story = [(0, "mixed", HONEY), (0.1, "pitched", {}), (30, "read", READ), (31, "bottled", {"lots": [lot]})]
    assert _told(*story)["closure"] == "cork"
    rest = _told(*story, (32, "closed", {"closure": "solid-bung"}))
    assert "the rest in a vessel" in rest["stage"] and "SEALED" in rest["closure"]
