"""The room above the liquid: foam, air, and what warming and cooling do to it.

By volume only: the shape of a jug's neck is not known, so no depth in centimetres is given.
"""

from dataclasses import dataclass

from .ethanol import density_from_abv
from .limits import within
from .sugar import sugar_solution_density
from .sulfite import SO2_PER_OXYGEN

OXYGEN_SHARE = 0.2095  # of dry air
ROOM_AT_START = {"plain": 0.10, "fruit": 0.20}  # share of the vessel free in the first days; common practice
GAS_CONSTANT = 0.0831446  # L bar / (mol K)


def free_share(capacity_l: float, liquid_l: float) -> float:
    """Free space of a vessel, as a fraction of its capacity.

    Range: capacity above 0, to 2000 L; liquid 0 to the capacity.
    Errors: ValueError outside, also when the liquid does not fit.
    Formula: 1 - liquid / capacity.

    >>> free_share(5.0, 4.5)
    0.1

    Source: arithmetic; a start wants 0.10 free, 0.20 with fruit, some say 0.30 to 0.40.
    """
    if not 0 < capacity_l <= 2000:
        raise ValueError(f"vessel capacity must be above 0, to 2000 L, got {capacity_l:g}")
    if liquid_l > capacity_l:
        raise ValueError(f"{liquid_l:g} L does not fit a vessel of {capacity_l:g} L")
    return 1 - within("liquid", liquid_l, 0, 2000, "L") / capacity_l


def oxygen_mg_per_l(headspace_l: float, liquid_l: float, temp_c: float = 20.0) -> float:
    """Oxygen in a headspace of fresh air, in mg for each litre of the drink under it.

    Range: headspace 0 to 2000 L; liquid above 0 L; 0 to 40 °C.
    Errors: ValueError outside. Dry air at one atmosphere.
    Formula: 0.2095 x 1.01325 bar x 31.998 / RT x headspace / liquid.

    >>> oxygen_mg_per_l(0.1, 3.8)
    7.3

    Source: ideal gas law.
    """
    if not 0 < liquid_l <= 2000:
        raise ValueError(f"liquid must be above 0, to 2000 L, got {liquid_l:g}")
    within("headspace", headspace_l, 0, 2000, "L")
    within("temperature", temp_c, 0, 40, "°C")
    grams = OXYGEN_SHARE * 1.01325 * 31.998 / (GAS_CONSTANT * (temp_c + 273.15)) * headspace_l
    return grams * 1000 / liquid_l


def sulfite_used_mg_per_l(oxygen: float) -> float:
    """Free SO2 that so much oxygen can use up, in mg/L, if all of it is taken up.

    Range: 0 to 10000 mg/L oxygen. Errors: ValueError outside. An upper bound.
    Formula: 4 mg SO2 for each mg oxygen.

    >>> round(sulfite_used_mg_per_l(7.3))
    29

    Source: 2 SO2 + O2, stoichiometry.
    """
    return within("oxygen", oxygen, 0, 10000, "mg/L") * SO2_PER_OXYGEN


def expansion(from_c: float, to_c: float, abv: float = 0.0, brix: float = 0.0) -> float:
    """Volume of a drink at one temperature over its volume at another, as a ratio.

    Range: 0 to 40 °C; 0 to 25 % vol; 0 to 45 Brix.
    Errors: ValueError outside. Sugar and alcohol are taken one at a time and the larger change kept.
    Formula: density at the first temperature / density at the second.

    >>> expansion(10.0, 30.0, abv=12.0)
    1.0052

    Source: OIML R 22 for ethanol-water, ICUMSA for sucrose.
    """
    for temp_c in (from_c, to_c):
        within("temperature", temp_c, 0, 40, "°C")
    within("alcohol", abv, 0, 25, "% vol")
    within("sugar", brix, 0, 45, "Brix")
    spirit = density_from_abv(abv, from_c) / density_from_abv(abv, to_c)
    sweet = sugar_solution_density(brix, from_c) / sugar_solution_density(brix, to_c)
    return max(spirit, sweet) if to_c >= from_c else min(spirit, sweet)


@dataclass(frozen=True, slots=True)
class Movement:
    """What a change of temperature does: L of liquid gained, L of gas pushed out (or drawn in, negative)."""

    liquid_gain_l: float
    gas_out_l: float
    headspace_after_l: float
    overflow_l: float


def movement(
    capacity_l: float, liquid_l: float, from_c: float, to_c: float, abv: float = 0.0, brix: float = 0.0
) -> Movement:
    """How liquid and gas move in a vented vessel when the temperature changes, in litres.

    Range: as free_share and expansion.
    Errors: ValueError outside. Glass is taken as rigid; gas leaving solution comes on top when warming.
    Formula: liquid x (ratio - 1); headspace gas by absolute temperature at constant pressure.

    >>> movement(5.0, 4.9, 15.0, 25.0, abv=12.0).liquid_gain_l
    0.013

    Source: expansion; ideal gas law.
    """
    headspace_l = free_share(capacity_l, liquid_l) * capacity_l
    gain = liquid_l * (expansion(from_c, to_c, abv, brix) - 1)
    after = headspace_l - gain
    gas_at_new = headspace_l * (to_c + 273.15) / (from_c + 273.15)
    overflow = max(0.0, -after)
    return Movement(gain, gas_at_new - max(0.0, after), max(0.0, after), overflow)


def full_at_c(capacity_l: float, liquid_l: float, from_c: float, abv: float = 0.0, brix: float = 0.0) -> float | None:
    """Temperature at which the warming liquid fills its vessel, in °C; None if it does not by 40 °C.

    Range: as movement.
    Errors: ValueError outside. A vessel sealed and full to the brim can be burst by the liquid alone.
    Formula: movement solved for no headspace by halving.

    >>> round(full_at_c(0.757, 0.754, 15.0, abv=12.0))
    29

    Source: expansion.
    """
    if movement(capacity_l, liquid_l, from_c, 40.0, abv, brix).headspace_after_l > 0:
        return None
    low, high = from_c, 40.0
    for _ in range(30):
        middle = (low + high) / 2
        fits = movement(capacity_l, liquid_l, from_c, middle, abv, brix).headspace_after_l > 0
        low, high = (middle, high) if fits else (low, middle)
    return high
