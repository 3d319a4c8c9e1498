"""How fields are read: what stands on a limit is taken, what stands beyond it is asked about."""

from __future__ import annotations

from datetime import timedelta

import pytest
from screens.small_cellar import NOW, batch, numbered

from mustwatch.cellar.fold import fold
from mustwatch.deeds.catalogue import deed_named
from mustwatch.deeds.deed import Ground, understood
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.settings import Settings

FERMENTING = [1.100, 1.085, 1.070, 1.055]
BOTTLED = draft("bottled", NOW, "quiet-1", lots=[{"size_ml": 500, "count": 6}])


def meant(name: str, texts: dict[str, str], *more, settings: Settings = Settings()):  # noqa: B008  frozen
    """What these texts mean in a form for a batch of 4.5 litres that ferments."""
    cellar = fold(numbered([*batch("quiet-1", 9, FERMENTING), *more]), settings, NOW)
    return understood(deed_named(name), texts, Ground("quiet-1", cellar, NOW, scaled=True))


@pytest.mark.parametrize(
    ("name", "rest", "field", "within", "beyond"),
    [
        ("pitch", {"yeast": "a"}, "must", "45", "46"),
        ("pitch", {"yeast": "a"}, "must", "-2", "-3"),
        ("pitch", {"yeast": "a"}, "tolerance", "30", "31"),
        ("add", {"what": "nutrient"}, "nitrogen", "1000", "1001"),
        ("add", {"what": "nutrient"}, "nitrogen", "100%", "101%"),
        ("bottle", {"lot1": "1 x 500ml"}, "rating", "20", "21"),
        ("bottle", {}, "lot1", "1 x 10ml", "1 x 9ml"),
        ("bottle", {}, "lot1", "1 x 1.95 l", "1 x 1.96 l"),  # a tenth more than the 4.5 L that there were
        ("rack", {"into": "jug 5 l"}, "volume", "5.5 l", "5.6 l"),  # a tenth more than the jug is said to hold
        ("rack", {}, "volume", "13.5 l", "14 l"),
        ("take", {}, "count", "6", "7"),
        ("taste", {}, "score", "10", "11"),
        ("instrument", {"name": "g", "what": "hydrometer"}, "offset", "0,03", "0,031"),
        ("instrument", {"name": "g", "what": "hydrometer"}, "water", "0.970", "0.969"),
        ("instrument", {"name": "g", "what": "refractometer"}, "offset", "-5", "-5.1"),
        ("instrument", {"name": "g", "what": "thermometer"}, "offset", "20", "21"),
        ("instrument", {"name": "g", "what": "pH meter"}, "offset", "2", "2.1"),
        ("instrument", {"name": "g", "what": "hydrometer"}, "division", "10", "11"),
        ("begin", {"tag": "oak"}, "target", "1.180", "1.181"),
        ("begin", {"tag": "oak", "target": "1.090"}, "target_end", "1.089", "1.090"),
    ],
)
def test_a_limit_is_taken_and_what_lies_beyond_it_is_asked_about(name, rest, field, within, beyond):
    """A slip of the unit or the digit is found where it is typed."""
    assert not meant(name, rest | {field: within}, BOTTLED).faults
    assert set(meant(name, rest | {field: beyond}, BOTTLED).faults) == {field}


@pytest.mark.parametrize(("hours", "known"), [(2.0, True), (2.1, False)])
def test_a_must_temperature_is_filled_in_while_it_is_fresh(hours, known):
    """After two hours it need not be the one at pitching any more."""
    read = draft("read", NOW - timedelta(hours=hours), "quiet-1", must_c=21.5)
    cellar = fold(numbered([*batch("quiet-1", 9, FERMENTING), read]), Settings(), NOW)
    assert ("must" in deed_named("pitch").first(Ground("quiet-1", cellar, NOW))) is known


@pytest.mark.parametrize(("back_seconds", "told"), [(60, False), (61, True)])
def test_a_time_is_said_back_where_it_is_not_now(back_seconds, told):
    """What happened a moment ago happened now."""
    when = (NOW - timedelta(seconds=back_seconds)).isoformat()
    assert any("when: " in line for line in meant("swirl", {"when": when}).words) is told


def test_a_bare_temperature_is_asked_about_where_no_scale_stands_beside_it():
    """On the command line 20 could be either; in a form the label names the scale."""
    cellar = fold(numbered(batch("quiet-1", 9, FERMENTING)), Settings(), NOW)
    ground = Ground("quiet-1", cellar, NOW)
    assert "which scale" in understood(deed_named("move"), {"place": "shed", "air": "20"}, ground).faults["air"]
    assert deed_named("move").fields[2].label_for(Settings(temperature="F")) == "air F"


@pytest.mark.parametrize(
    ("text", "says"),
    [("12", "none of: bread"), ("white wine", ""), ("White_Wine", ""), ("ale yeast", "none of")],
)
def test_a_word_of_a_fixed_set_may_be_spelt_as_people_do(text, says):
    """Capitals, blanks and dashes make no other word."""
    assert says in meant("pitch", {"yeast": "a", "class": text}).faults.get("class", "")
