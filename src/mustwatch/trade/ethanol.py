"""Density of ethanol in water, and strength by mass against strength by volume."""

from functools import lru_cache

from .limits import within
from .root import crossing_near

WATER_AND_SHARE = (
    998.20123,
    -192.9769495,
    389.1238958,
    -1668.103923,
    13522.15441,
    -88292.78388,
    306287.4042,
    -613838.1234,
    747017.2998,
    -547846.1354,
    223446.0334,
    -39032.85426,
)
"""A1 to A12 of the general formula: powers of the mass share at 20 °C."""
_SHARE = WATER_AND_SHARE[1:]

WARMTH = (
    -0.20618513,
    -0.0052682542,
    3.6130013e-05,
    -3.8957702e-07,
    7.169354e-09,
    -9.9739231e-11,
)
"""B1 to B6: powers of (t - 20) for water."""

SHARE_AND_WARMTH = (
    (
        0.1693443461530087,
        -10.46914743455169,
        71.96353469546523,
        -704.7478054272792,
        3924.090430035045,
        -12101.64659068747,
        22486.46550400788,
        -26055.62982188164,
        18523.73922069467,
        -7420.201433430137,
        1285.617841998974,
    ),
    (
        -0.0119301300505701,
        0.2517399633803461,
        -2.170575700536993,
        13.53034988843029,
        -50.29988758547014,
        109.635566657757,
        -142.2753946421155,
        108.043594285623,
        -44.14153236817392,
        7.442971530188783,
    ),
    (
        -0.0006802995733503803,
        0.01876837790289664,
        -0.2002561813734156,
        1.02299296671922,
        -2.895696483903638,
        4.810060584300675,
        -4.672147440794683,
        2.458043105903461,
        -0.5411227621436812,
    ),
    (
        4.075376675622027e-06,
        -8.76305857347111e-06,
        6.515031360099368e-06,
        -1.51578483698721e-06,
    ),
    (
        -2.788074354782409e-08,
        1.345612883493354e-08,
    ),
)
"""C(i, k): row i multiplies (t - 20)^i, place k multiplies p^k."""

ETHANOL_20_KG_M3 = 789.239
"""Density of pure ethanol at 20 °C by the same formula, kg/m³."""


def _power_series(values: tuple[float, ...], x: float) -> float:
    """values[0] x + values[1] x² + ..."""
    total = 0.0
    for value in reversed(values):
        total = (total + value) * x
    return total


def _at_20(share: float) -> float:
    return WATER_AND_SHARE[0] + _power_series(_SHARE, share)


def _abv(share: float) -> float:
    return 100.0 * share * _at_20(share) / ETHANOL_20_KG_M3


def ethanol_density(mass_share: float, temp_c: float = 20.0) -> float:
    """Density of an ethanol-water mixture, in kg/m³ (vacuum).

    Range: mass share 0 to 1 (a fraction, not %), -20 to 40 °C. Errors: ValueError outside;
    0.01 kg/m³ against the official table at 20 °C.
    Formula: the twelve-term polynomial in mass share with its temperature terms.

    >>> ethanol_density(0.0)
    998.201
    >>> ethanol_density(mass_share_from_abv(40.0))
    948.05

    Source: OIML R 22 (1975) / Council Directive 76/766/EEC, general formula.
    """
    p = within("alcohol mass share", mass_share, 0, 1)
    t = within("mixture temperature", temp_c, -20, 40, "°C") - 20.0
    density = _at_20(p)
    if t:
        density += _power_series(WARMTH, t)
        density += _power_series(tuple(_power_series(row, p) for row in SHARE_AND_WARMTH), t)
    return density


@lru_cache(maxsize=256)
def mass_share_from_abv(abv: float) -> float:
    """Mass share of ethanol (a fraction) in a mixture of known strength at 20 °C.

    Range: 0 to 100 % vol. Errors: ValueError outside.
    Formula: abv_from_mass_share solved by the secant rule.

    >>> mass_share_from_abv(12.0)
    0.0964

    Source: OIML R 22 (1975) / Council Directive 76/766/EEC, inverted.
    """
    within("alcohol", abv, 0, 100, "% vol")
    guess = abv * 0.0079
    better = abv * ETHANOL_20_KG_M3 / 100.0 / _at_20(guess)
    return min(max(crossing_near(lambda share: _abv(share) - abv, guess, better), 0.0), 1.0)


def density_from_abv(abv: float, temp_c: float = 20.0) -> float:
    """Density of an ethanol-water mixture, in kg/m³, from its strength at 20 °C.

    Range: 0 to 100 % vol, -20 to 40 °C. Errors: ValueError outside.
    Formula: the general formula at the mass share of that strength.

    >>> density_from_abv(10.0)
    984.71

    Source: OIML R 22 (1975) / Council Directive 76/766/EEC.
    """
    return ethanol_density(mass_share_from_abv(abv), temp_c)
