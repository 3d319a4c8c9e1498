"""The gas of a closed batch, number by number."""

import pytest
from rules.scenario import batch_of

from mustwatch.judgement.bottlings import at_bottlings
from mustwatch.judgement.gas import bears, gas_in_bottles, gas_in_vessel, gas_of, is_borne
from mustwatch.ledger.events import Lot
from mustwatch.ledger.settings import Settings
from mustwatch.trade.carbonation import residual_volumes, volumes_from_sugar
from mustwatch.trade.pressure import gauge_bar

PROVEN = """
    day 0         mixed 5l jug 5l honey 1kg
    day 0 09:10   read 1.080
    day 0 09:30   pitched ale
    day 30        read 0.998 must18C
    day 38        read 0.998 must20C
"""
BOTTLED = PROVEN + "    day 40 bottled 6x750 still-wine cork still\n"


def _gas(text):
    batch = batch_of(text)
    return gas_in_bottles(batch, at_bottlings(batch)[0])


def test_what_is_proven_dry_makes_no_gas():
    """In the vessel and in the bottle; what is dissolved is that of the warmest since it rests."""
    for gas in (gas_in_vessel(batch_of(PROVEN)), _gas(BOTTLED)):
        assert gas.made == 0
        assert gas.held == pytest.approx(residual_volumes(20.0))


def test_what_is_not_proven_may_make_all_down_to_the_driest():
    """0.998 and the reading's point, down to 0.994 for a weak mead: five points, half a volume each."""
    gas = _gas(BOTTLED.replace("day 38 ", "day 34 "))
    assert gas.sugar == pytest.approx(2.5, abs=0.05)


def test_what_keeps_the_sugar_keeps_the_gas():
    """Sweet and stabilised, and steady for two weeks."""
    sweet = BOTTLED.replace("1.080", "1.120").replace("0.998", "1.030").replace("day 40 bottled", "day 60 bottled")
    dosed = "    day 39 added sulfite 0.4g\n    day 39 10:00 added sorbate 1.3g\n    day 55 read 1.030\n"
    plain = sweet.replace("    day 60", "    day 55 read 1.030\n    day 60")
    assert _gas(plain).sugar > 10
    assert _gas(sweet.replace("    day 60", dosed + "    day 60")).sugar == 0


def test_priming_sugar_counts_by_its_kind_and_what_it_went_into():
    """4.5 L were filled; where nobody counted bottles the vessel's volume stands in, a litre where that is unknown."""
    primed = BOTTLED.replace("cork still", "cork sparkling priming20g")
    assert _gas(primed).primed == pytest.approx(volumes_from_sugar(20 / 4.5))
    uncounted = PROVEN + "    day 40 bottled priming20g\n"
    assert _gas(uncounted).primed == pytest.approx(volumes_from_sugar(20 / 5))
    assert _gas(uncounted.replace("mixed 5l jug 5l", "mixed jug")).primed == pytest.approx(volumes_from_sugar(20))
    honey = primed.replace("priming20g", "priming.what=honey priming.g=20")
    assert _gas(honey).primed == pytest.approx(volumes_from_sugar(20 / 4.5, "honey"))


def test_sugar_fed_after_the_last_reading_counts_whole():
    """300 g of honey in 5 L are 18 points; so strong a must may end nine below, at 0.990."""
    fed = BOTTLED.replace("    day 40", "    day 39 added honey 300g\n    day 40")
    assert _gas(fed).sugar == pytest.approx(0.5 * (9 + 300 * 0.8 * 0.385 / 5), abs=0.1)
    unweighed = _gas(fed.replace("honey 300g", "honey"))
    assert "how much honey went into how much" in unweighed.missing


def test_without_a_temperature_a_cold_cellar_is_assumed_and_said():
    """Cold drink holds more gas."""
    gas = _gas(BOTTLED.replace(" must18C", "").replace(" must20C", ""))
    assert gas.held == pytest.approx(residual_volumes(10.0))
    assert any("10 °C is assumed" in fact for fact in gas.missing)


@pytest.mark.parametrize(("line", "abv"), [("pitched ale", 12), ("pitched ale 20%", 20)])
def test_alcohol_that_is_not_known_is_taken_at_its_most(line, abv):
    """What its yeast may make, and never more than a fifth: the stronger the drink, the higher its pressure."""
    text = BOTTLED.replace("    day 0 09:10   read 1.080\n", "").replace(" honey 1kg", "").replace("pitched ale", line)
    assert _gas(text).abv == abv


@pytest.mark.parametrize(("kind", "held"), [("still-wine", False), ("beer", True), ("sparkling", True), ("pet", True)])
def test_a_little_fizz_is_borne_by_what_is_made_for_it(kind, held):
    """1.4 volumes made, 2.3 in all."""
    gas = _gas(BOTTLED.replace("cork still", "cork sparkling priming24g"))
    assert bears(Lot(size_ml=750, count=6, bottle=kind), gas, Settings()) is held


@pytest.mark.parametrize(("grams", "held"), [("8.5", True), ("8.8", False)])
def test_half_a_volume_made_is_too_much_for_a_bottle_rated_for_nothing(grams, held):
    """In 4.5 L: 0.49 and 0.51 volumes; a cellar may set another."""
    text = BOTTLED.replace("cork still", f"cork sparkling priming{grams}g")
    assert is_borne(batch_of(text), Settings()) is held
    assert is_borne(batch_of(text), Settings(thresholds={"over-the-bottle": {"unrated": 0.6}}))


@pytest.mark.parametrize(("grams", "held"), [("28.2", True), ("28.6", False)])
def test_a_beer_bottle_is_good_for_two_and_a_half_volumes(grams, held):
    """0.86 are in it at 20 °C."""
    text = BOTTLED.replace("still-wine cork still", f"beer crown-cap sparkling priming{grams}g")
    assert is_borne(batch_of(text), Settings()) is held


def test_a_stated_rating_is_held_against_the_warmest():
    """By its alcohol at 30 °C, or what a cellar calls the warmest."""
    gas = _gas(BOTTLED.replace("cork still", "cork sparkling priming40g"))
    bar = gauge_bar(gas.held + gas.made, 30.0, gas.abv)
    assert gas.bar(30.0) == pytest.approx(bar)
    for rating, held in ((bar + 0.01, True), (bar - 0.01, False)):
        assert bears(Lot(size_ml=750, count=6, rating_bar=rating), gas, Settings()) is held
    cool = Settings(thresholds={"over-the-bottle": {"warmest": 25.0}})
    assert bears(Lot(size_ml=750, count=6, rating_bar=bar - 0.01), gas, cool)


def test_a_keg_holds_what_its_plate_says_at_30_degrees():
    """And one without a plate holds nothing that still works."""
    working = PROVEN.replace("day 38 ", "day 32 ").replace("jug 5l", "keg 5l vessel.rating_bar=RATING")
    gas = gas_in_vessel(batch_of(working.replace("RATING", "1")))
    for rating, held in ((gas.bar(30.0) + 0.01, True), (gas.bar(30.0) - 0.01, False), (0, False)):
        assert is_borne(batch_of(working.replace("RATING", f"{rating:.4f}")), Settings()) is held


def test_the_bottling_that_makes_the_most_speaks_for_all():
    """The first lot primed, the second still."""
    two = BOTTLED.replace("6x750 still-wine cork still", "2x750 beer crown-cap sparkling priming8g")
    two += "    day 41 bottled 4x750 still-wine cork still\n"
    assert gas_of(batch_of(two)).primed == pytest.approx(volumes_from_sugar(8 / 1.5))
    assert gas_of(batch_of("    day 0 mixed 5l jug 5l\n    day 0 09:30 pitched ale\n")) is None


HEATED = """
    day 0         read 1.082
    day 0 09:30   pitched ale
    day 50        read 1.020
    day 53        read 1.020
    day 54        bottled 6x750 still-wine cork still priming10g
    day 55        heated bottles 65C {minutes}min
"""


@pytest.mark.parametrize(("minutes", "later", "makes"), [
    (10, "", False), (9, "", True), (10, "    day 60 read 1.014\n    day 61 read 1.014\n", True),
])  # fmt: skip
def test_sugar_left_makes_no_gas_where_heat_stopped_the_yeast(minutes: int, later: str, makes: bool):
    """What primed it may have fermented before; a lot that fell since was not stopped."""
    batch = batch_of(HEATED.format(minutes=minutes) + later)
    gas = gas_in_bottles(batch, at_bottlings(batch)[0])
    assert (gas.sugar > 0) is makes and gas.primed > 0
