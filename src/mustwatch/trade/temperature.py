"""Hydrometer readings brought to 20 °C, and the two temperature scales."""

from .ethanol import ethanol_density, mass_share_from_abv
from .limits import within
from .sugar import brix_from_density, sugar_solution_density
from .water import WATER_20_KG_M3, water_density

GLASS_EXPANSION = 25e-6
"""Growth of a soda-glass float's volume per °C (the figure the OIML tables are built on)."""


def _scale_density(reading_sg: float, sample_c: float, calibration_c: float) -> float:
    """True density of the sample, kg/m³: the float has swollen since it was calibrated."""
    swelling = 1.0 + GLASS_EXPANSION * (sample_c - calibration_c)
    return reading_sg * water_density(calibration_c) / swelling


def _check(reading_sg: float, sample_c: float, calibration_c: float, hottest_c: float) -> None:
    within("hydrometer reading", reading_sg, 0.97, 1.2)
    within("sample temperature", sample_c, 0, hottest_c, "°C")
    within("calibration temperature", calibration_c, 15, 25, "°C")


def corrected_sg(reading_sg: float, sample_c: float, calibration_c: float = 20.0) -> float:
    """Specific gravity 20/20 behind a hydrometer reading, a pure number.

    Range: readings 0.970 to 1.200, samples 0 to 45 °C, glasses made for 15 to 25 °C (15, 15.56
    and 20 are sold). Errors: ValueError outside; 0.0003 for a must, see corrected_sg_with_alcohol
    for a sample that has fermented.
    Formula: reading = density(sugar, t) / water(calibration) x (1 + 25e-6 (t - calibration));
    solved for sugar, whose density at 20 °C gives the answer.

    >>> corrected_sg(1.07979, 30.0)
    1.0829
    >>> corrected_sg(1.042, 20.0)
    1.042

    Source: ICUMSA SPS-4 sucrose density; glass expansion as in the OIML alcohol tables.
    """
    _check(reading_sg, sample_c, calibration_c, 45)
    if sample_c == calibration_c == 20.0:
        return reading_sg
    brix = brix_from_density(_scale_density(reading_sg, sample_c, calibration_c), sample_c)
    return sugar_solution_density(brix) / WATER_20_KG_M3


def corrected_on_own_scale(reading_sg: float, sample_c: float, calibration_c: float = 20.0) -> float:
    """What the glass would show at its own temperature, a pure number on its own scale.

    Range: readings 0.970 to 1.200, samples 0 to 45 °C, glasses made for 15 to 25 °C. Errors: ValueError
    outside. This is what printed correction tables give; corrected_sg gives the 20/20 scale.
    Formula: the sugar behind the reading, put back at the calibration temperature.

    >>> corrected_on_own_scale(1.100, 28.89, 15.56)
    1.1042

    Source: ICUMSA SPS-4 sucrose density; glass expansion as in the OIML alcohol tables.
    """
    _check(reading_sg, sample_c, calibration_c, 45)
    if sample_c == calibration_c:
        return reading_sg
    brix = brix_from_density(_scale_density(reading_sg, sample_c, calibration_c), sample_c)
    return sugar_solution_density(brix, calibration_c) / water_density(calibration_c)


def corrected_sg_with_alcohol(
    reading_sg: float, sample_c: float, calibration_c: float = 20.0, abv: float = 0.0
) -> float:
    """Specific gravity 20/20 of a fermented sample, a pure number.

    Range: readings 0.970 to 1.200, samples 0 to 40 °C, 0 to 25 % vol. Errors: ValueError outside;
    about 0.0005, since no combined table was found to hold it to.
    Formula: the thinning by alcohol at 20 °C is set aside (Tabarie), the sugar left is corrected
    as in a must, and the alcohol's own change with temperature (OIML R 22) is put back.

    >>> corrected_sg_with_alcohol(0.9930, 30.0, 20.0, 12.0) > corrected_sg(0.9930, 30.0)
    True

    Source: OIV-MA-AS2-03B (Tabarie); OIML R 22; ICUMSA SPS-4.
    """
    _check(reading_sg, sample_c, calibration_c, 40)
    share = mass_share_from_abv(within("alcohol", abv, 0, 25, "% vol"))
    thinning_now = ethanol_density(share, sample_c) - ethanol_density(0.0, sample_c)
    thinning_20 = ethanol_density(share, 20.0) - ethanol_density(0.0, 20.0)
    density = _scale_density(reading_sg, sample_c, calibration_c)
    brix = brix_from_density(density - thinning_now, sample_c)
    return (sugar_solution_density(brix) + thinning_20) / WATER_20_KG_M3


def celsius_from_fahrenheit(temp_f: float) -> float:
    """Temperature in °C from °F.

    Range: -459.67 °F and above. Errors: ValueError below. Formula: (F - 32) x 5 / 9.

    >>> celsius_from_fahrenheit(68.0)
    20.0

    Source: definition of the scale.
    """
    return (within("temperature", temp_f, -459.67, 1e6, "°F") - 32.0) * 5.0 / 9.0


def fahrenheit_from_celsius(temp_c: float) -> float:
    """Temperature in °F from °C.

    Range: -273.15 °C and above. Errors: ValueError below. Formula: C x 9 / 5 + 32.

    >>> fahrenheit_from_celsius(20.0)
    68.0

    Source: definition of the scale.
    """
    return within("temperature", temp_c, -273.15, 1e6, "°C") * 9.0 / 5.0 + 32.0
