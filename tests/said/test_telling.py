"""One teller for every event: each kind has its words, and no fact that was recorded is left out."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from sample_story import PINNED, lines

from mustwatch.cellar.fold import fold
from mustwatch.ledger.codec import parse
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import KINDS, MODELS
from mustwatch.ledger.settings import Settings
from mustwatch.said import telling
from mustwatch.said.telling import COMMON, told, told_with_note

NOW = datetime(2026, 5, 14, 20, tzinfo=UTC)
CELLAR = fold([parse(line) for line in lines()], Settings(), PINNED)
JUG = {"kind": "jug", "capacity_l": 5, "rating_bar": 2}
HONEY = {"what": "lime honey", "category": "honey", "kg": 1.3}
UNTOLD = {"mixed": {"name", "style"}}  # the heading names them
# Every own key of every kind, with the words it must leave in the line.
WHOLE: dict[str, dict[str, tuple[Any, str]]] = {
    "mixed": {
        "volume_l": (4.5, "4.5 L"), "vessel": (JUG, "jug 5 L, made for 2 bar"), "from_batch": ("ash", "ash"),
        "recipe_only": (True, "by the recipe of ash"), "sure": (True, "asked about, and right"),
        "ingredients": ([HONEY, {"what": "water", "l": 0.5}], "1.3 kg lime honey, 500 ml water"),
        "target": ({"sg": 1.1, "final_sg": 1.01, "finish": "sweet"}, "planned 1.100 to 1.010 sweet"),
    },
    "pitched": {
        "yeast": (
            {"label": "packet", "class": "ale", "tolerance_abv": 12, "low_c": 15, "high_c": 24},
            "packet (ale), 5 g, must 20 °C, bears 12 % vol, made for 15 °C to 24 °C",
        ),
        "g": (5, "5 g"), "must_c": (20, "must 20 °C"),
    },
    "read": {
        "gravity": ({"value": 1.05, "instrument": "tall", "sample_c": 21}, "1.050 by tall at 21 °C"),
        "must_c": (19.5, "must 19.5 °C"), "air_c": (17, "air 17 °C"), "ph": (3.6, "pH 3.6"),
        "ta_g_l": (6.5, "acid 6.5 g/L"), "free_so2_mg_l": (30, "free SO2 30 mg/L"), "place": ("attic", "in attic"),
        "probe": ("shelf", "by the probe shelf"), "n": (12, "mean of 12"),
    },
    "seen": {
        "airlock": ("still", "airlock still"), "surface": ("film", "surface film"), "clarity": ("hazy", "hazy"),
        "smell": (["pear"], "smell of pear"), "signs": (["gushing"], "gushing"),
    },
    "added": {
        "what": ("food", "food"), "category": ("nutrient", "(nutrient)"), "g": (28.3495, "28.35 g"),
        "l": (None, ""), "nitrogen_mg_per_g": (120, "120 mg nitrogen a gram"),
        "taste_by": (NOW + timedelta(days=14), "taste by 28 May"),
    },
    "removed": {"what": ("oak", "oak")},
    "poured_back": {
        "lots": (
            [{"lot": "b", "size_ml": 750, "count": 5}, {"size_ml": 330}, {"lot": 2, "count": 1}],
            "poured back 5 x 750 ml of lot b, all x 330 ml, 1 bottle of lot 2",
        ),
        "vessel": (JUG, "into jug 5 L"), "closure": ("airlock", "closed with airlock (vented)"),
    },
    "heated": {"what": ("bottles", "the bottles"), "c": (65, "65 °C"), "minutes": (10, "for 10 minutes")},
    "swirled": {"how": ("gently", "swirled (gently)")}, "aerated": {"how": ("shaken", "shaken")},
    "cap_pushed": {"how": ("by hand", "by hand")}, "cleaned": {"how": ("bottles", "cleaned (bottles)")},
    "closed": {"closure": ("airlock", "airlock"), "liquid": ("vodka", "vodka"), "fit": ("loose", "fit: loose")},
    "racked": {
        "vessel": (JUG, "jug 5 L"), "volume_l": (4.2, "4.2 L"), "lees_l": (0.3, "lees 300 ml"),
        "headspace_l": (0.2, "headspace 200 ml"),
    },
    "moved": {"place": ("attic", "attic"), "light": ("lit", "lit"), "air_c": (30, "air 30 °C")},
    "bottled": {
        "lots": ([{"size_ml": 750, "count": 6, "bottle": "beer", "closure": "cork", "rating_bar": 3}],
                 "6 x 750 ml beer cork, made for 3 bar"),
        "style": ("still", "still"), "priming": ({"what": "sucrose", "g": 30}, "primed with 30 g sucrose"),
        "sure": (True, "asked about, and right"),
    },
    "took": {"count": (2, "2 bottles"), "why": ("broken", "broken"), "burst": (True, "BURST")},
    "tasted": {
        "look": ("clear", "look: clear"), "nose": ("pear", "nose: pear"), "palate": ("soft", "palate: soft"),
        "balance": ("dry", "balance: dry"), "score_of_10": (7.5, "7.5 of 10"), "again": (False, "not again"),
    },
    "noted": {},
    "hushed": {"rule": ("stalled", "stalled"), "until": (NOW, "until 14 May 20:00"), "why": ("away", "away")},
    "amended": {"target": ("x1", "x1"), "set": ({"ph": 3.6}, "ph=3.6")},
    "withdrew": {"target": ("x1", "x1"), "why": ("twice", "twice")},
    "ended": {"outcome": ("drunk", "drunk"), "sure": (True, "asked about, and right")},
    "instrument": {
        "name": ("tall", "tall"), "what": ("hydrometer", "hydrometer"), "calibration_c": (20, "made for 20 °C"),
        "offset": (-0.002, "-0.002 is added"), "division": (0.001, "marks 0.001 apart"), "factor": (1.04, "times 1.04"),
    },
    "probed": {
        "probe": ("shelf", "probe shelf"), "state": ("lost", "is lost"), "place": ("attic", "in attic"),
        "why": ("was not heard", "it was not heard"),
    },
    "witnessed": {
        "devices": ({"ab": 3}, "ab up to 3"), "last": ({"ab": "x1"}, "the last of ab was x1"),
        "accepted": ({"cd": 2}, "cd is known to end at 2"),
    },
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_no_recorded_fact_is_left_out_of_the_line(kind: str) -> None:
    """A story that keeps something back has a hole, and a correction of it could not be seen."""
    own = set(MODELS[kind].model_fields) - COMMON - UNTOLD.get(kind, set())
    assert own == set(WHOLE[kind])
    keys = {key: value for key, (value, _) in WHOLE[kind].items() if value is not None}
    line = told(draft(kind, NOW, "fir", **keys), now=NOW)
    for words in (words for _, words in WHOLE[kind].values()):
        assert words in line


@pytest.mark.parametrize("kind", KINDS)
def test_what_a_note_was_asked_about_is_told_with_it(kind: str) -> None:
    """Else a story would not tell why a note that speaks of a leak was let be."""
    needed = {key: WHOLE[kind][key][0] for key, field in MODELS[kind].model_fields.items() if field.is_required()
              and key in WHOLE[kind]}  # fmt: skip
    line = told(draft(kind, NOW, "fir", **needed, note="it leaks no more", harmless=["leak", "of-later"]))
    assert line.endswith("its note was asked about, and does not mean a leak or a crack and of-later")


@pytest.mark.parametrize("kind", KINDS)
def test_a_bare_event_has_its_words(kind: str) -> None:
    """Most keys may be missing; no blank, no `None`."""
    needed = {key: WHOLE[kind][key][0] for key, field in MODELS[kind].model_fields.items() if field.is_required()
              and key in WHOLE[kind]}  # fmt: skip
    line = told(draft(kind, NOW, "fir", **needed))
    assert line.strip() == line != "" and "None" not in line and not line.endswith((":", ","))


def test_every_event_of_the_sample_is_told_with_its_note() -> None:
    """No kind falls through to the words for unknown kinds."""
    assert set(telling._TELLERS) | {"read"} == set(KINDS)
    for batch in CELLAR.batches.values():
        for event in batch.story:
            assert "does not know" not in told(event)
            assert (event.note or "") in told_with_note(event)


def test_an_unknown_kind_is_told_as_it_is() -> None:
    """A newer program's lines survive and are seen."""
    event = parse(b'{"v":1,"id":"a","at":"2026-03-01T08:00:00Z","batch":"fir","kind":"frozen","depth":3}')
    assert told(event) == "frozen depth 3 (a kind this version does not know)"


def test_figures_are_told_in_the_scales_of_the_cellar() -> None:
    """Brix and Fahrenheit where the cellar has settled on them."""
    own = Settings(temperature="F", gravity="brix")
    assert "planned 10.0 Bx" in told(draft("mixed", NOW, "fir", target={"sg": 1.04}), own)
    assert "air 86 °F" in told(draft("moved", NOW, "fir", air_c=30), own)
