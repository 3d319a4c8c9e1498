"""Whatever a ledger holds, the rules answer and never break, and each answer can be shown."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mustwatch.cellar.fold import fold
from mustwatch.commands.check import as_keys, lines_of
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import plain_json
from mustwatch.rules.engine import judge_cellar

START = datetime(2026, 3, 1, 9, tzinfo=UTC)
number = st.floats(0, 2000, allow_nan=False)
gravity = st.one_of(st.floats(0.97, 1.2), st.sampled_from([0.0, 1042.0, 10.5, 1.5]))
vessel = st.fixed_dictionaries(
    {"kind": st.sampled_from(["jug", "bucket", "keg", "odd"])},
    optional={"capacity_l": st.floats(0.1, 100), "rating_bar": st.floats(0, 10)},
)
words = st.sampled_from(["leaking", "burst", "vinegar", "no mould", "egg", "distilled", "copper wire", "\x1b[2J"])
KEYS = {
    "mixed": {
        "volume_l": st.floats(0.1, 100),
        "vessel": vessel,
        "ingredients": st.lists(
            st.fixed_dictionaries(
                {"what": words, "category": st.sampled_from(["honey", "fruit", "juice", "water", "other"])},
                optional={"kg": number, "l": number},
            ),
            max_size=3,
        ),
        "target": st.fixed_dictionaries({}, optional={"final_sg": gravity, "finish": st.just("dry")}),
    },
    "pitched": {
        "yeast": st.fixed_dictionaries(
            {"class": st.sampled_from(["ale", "lager", "sparkling", "unknown"])},
            optional={"tolerance_abv": st.floats(0, 30), "low_c": st.floats(-40, 130), "high_c": st.floats(-40, 130)},
        ),
        "must_c": st.floats(-40, 130),
    },
    "read": {
        "gravity": st.fixed_dictionaries(
            {"value": gravity, "scale": st.sampled_from(["sg", "brix", "plato"])},
            optional={"sample_c": st.floats(-40, 130), "instrument": st.just("refractometer")},
        ),
        "must_c": st.floats(-40, 130),
        "ph": st.floats(0, 14),
        "free_so2_mg_l": number,
        "air_c": st.floats(-40, 130),
    },
    "seen": {
        "airlock": st.sampled_from(["bubbling", "still", "dry", "foamed"]),
        "surface": st.sampled_from(["clean", "foam", "rafts", "film", "fuzzy", "coloured"]),
        "clarity": st.sampled_from(["murky", "hazy", "clear"]),
        "smell": st.lists(words, max_size=2),
        "signs": st.lists(words, max_size=2),
    },
    "added": {
        "category": st.sampled_from(["honey", "fruit", "nutrient", "sulfite", "sorbate", "oak", "spice", "water"]),
        "g": number,
        "l": number,
        "nitrogen_mg_per_g": number,
    },
    "closed": {"liquid": words},
    "racked": {"vessel": vessel, "volume_l": st.floats(0.1, 100), "lees_l": number, "headspace_l": number},
    "moved": {"place": words, "light": st.sampled_from(["dark", "lit"]), "air_c": st.floats(-40, 130)},
    "bottled": {
        "lots": st.lists(
            st.fixed_dictionaries(
                {"size_ml": st.floats(1, 5000), "count": st.integers(0, 50)},
                optional={
                    "bottle": st.sampled_from(["still-wine", "beer", "sparkling", "swing-top", "pet", "other"]),
                    "rating_bar": st.floats(0, 100),
                },
            ),
            max_size=2,
        ),
        "style": st.sampled_from(["still", "sparkling"]),
        "priming": st.fixed_dictionaries({"what": words, "g": number}),
    },
    "took": {"count": st.integers(1, 99), "why": st.sampled_from(["drunk", "broken"]), "burst": st.booleans()},
    "tasted": {"nose": words, "palate": words},
    "noted": {"note": words},
    "removed": {},
    "swirled": {},
    "aerated": {},
    "cap_pushed": {},
    "cleaned": {},
    "hushed": {"until": st.integers(0, 90).map(lambda day: START + timedelta(days=day))},
    "ended": {},
}  # fmt: skip
NEEDED = {
    "added": {"what": words},
    "removed": {"what": words},
    "closed": {"closure": st.sampled_from(["airlock", "cloth", "tight-cap", "keg", "loose-cap"])},
    "ended": {"outcome": st.just("drunk")},
    "hushed": {"rule": st.sampled_from(["stalled", "sealed-while-alive"])},
}


@st.composite
def told(draw: st.DrawFn) -> list:
    """Any dozen events of any kinds, in any order, over a hundred days; half of them of a batch that lives."""
    events = []
    if draw(st.booleans()):
        events = [
            stamped(draft("read", START, "jug", gravity={"value": 1.1}, must_c=20.0), "start", 1),
            stamped(draft("pitched", START, "jug", yeast={"class": "ale"}), "pitch", 2),
        ]
    kinds = draw(st.sampled_from([list(KEYS), ["read", "read", "seen", "added", "closed", "bottled", "took", "moved"]]))
    for place in range(draw(st.integers(1, 14))):
        kind = draw(st.sampled_from(kinds))
        needed = NEEDED.get(kind, {})
        keys = draw(st.fixed_dictionaries(needed, optional=KEYS[kind]))
        if kind == "hushed":
            keys.setdefault("until", START)
        at = START + timedelta(hours=draw(st.integers(0, 2400)))
        events.append(stamped(draft(kind, at, "jug", **keys), f"{place:03d}", place))
    return events


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(events=told(), days=st.integers(0, 800))
def test_no_story_breaks_the_rules(events, days):
    """A user's odd entry may not take the list of warnings away."""
    now = START + timedelta(days=days)
    found = judge_cellar(fold(events, Settings(places={"burst": 3.0}), now), now)
    known = {event.id for event in events}
    for finding in found:
        plain_json(as_keys(finding))
        assert all(len(line) <= 80 for line in lines_of(finding, now))
        assert all(line.isprintable() for line in lines_of(finding, now))
        assert set(finding.evidence) <= known
        assert "nan" not in finding.says and "None" not in finding.says
