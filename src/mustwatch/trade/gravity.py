"""One gravity, many scales: specific gravity, Brix, Plato, density, sugar in a litre.

Specific gravity here is 20/20: the liquid at 20 °C over water at 20 °C, weighed in air,
as hydrometers and the Brix scale have it.
"""

from .limits import within
from .root import crossing
from .sugar import sugar_solution_density
from .water import WATER_20_KG_M3

AIR_KG_M3 = 1.2
LOWEST_SG, HIGHEST_SG, HONEY_SG = 0.96, 1.409, 1.46
NBS_TOP_SG, NBS_TOP_BRIX = 1.17874, 40.0


def _nbs(sg: float) -> float:
    return ((182.46007 * sg - 775.68212) * sg + 1262.7794) * sg - 669.56218


def _nbs_slope(sg: float) -> float:
    return (547.38021 * sg - 1551.36424) * sg + 1262.7794


def _solved(curve, slope, target: float, guess: float) -> float:
    sg = guess
    for _ in range(12):
        step = (curve(sg) - target) / slope(sg)
        sg -= step
        if abs(step) < 1e-12:
            break
    return sg


_NBS_40_SG = _solved(_nbs, _nbs_slope, NBS_TOP_BRIX, NBS_TOP_SG)


def _heavy(brix: float) -> float:
    """Specific gravity in air above 40 Brix, shifted a hair so that it meets the NBS curve."""
    return sg_from_density(sugar_solution_density(brix)) + _JOIN


def sg_from_density(density_kg_m3: float) -> float:
    """Specific gravity 20/20 in air of a liquid of known density at 20 °C, a pure number.

    Range: 900 to 1500 kg/m³. Errors: ValueError outside.
    Formula: both liquid and water lose the weight of the air they displace, 1.2 kg/m³.

    >>> sg_from_density(1080.977)
    1.08302

    Source: definition of apparent specific gravity; air density common practice.
    """
    within("density", density_kg_m3, 900, 1500, "kg/m³")
    return (density_kg_m3 - AIR_KG_M3) / (WATER_20_KG_M3 - AIR_KG_M3)


_JOIN = 0.0
_JOIN = _NBS_40_SG - _heavy(NBS_TOP_BRIX)


def density_from_sg(sg: float) -> float:
    """Density at 20 °C of a liquid of known specific gravity 20/20, in kg/m³.

    Range: 0.96 to 1.46, so that honey itself is in. Errors: ValueError outside.
    Formula: the inverse of sg_from_density.

    >>> density_from_sg(1.0)
    998.203

    Source: definition of apparent specific gravity; air density common practice.
    """
    within("specific gravity", sg, LOWEST_SG, HONEY_SG)
    return sg * (WATER_20_KG_M3 - AIR_KG_M3) + AIR_KG_M3


def brix_from_sg(sg: float) -> float:
    """Sugar of a plain sugar solution, in Brix (% by mass), from specific gravity 20/20.

    Range: 0.96 to 1.409. Below 1.000 the curve is carried on and the answer is only apparent;
    above 1.1787 the ICUMSA density is used. Once alcohol is present the answer is apparent too.
    Errors: ValueError outside; 0.001 Brix within the NBS range, about 0.05 above it.
    Formula: Bx = 182.46007 S³ - 775.68212 S² + 1262.7794 S - 669.56218.

    >>> brix_from_sg(1.08297)
    20.00

    Source: cubic fit to the NBS Circular C440 table of Brix against apparent specific gravity.
    """
    within("specific gravity", sg, LOWEST_SG, HIGHEST_SG)
    if sg <= _NBS_40_SG:
        return _nbs(sg)
    return crossing(lambda brix: _heavy(brix) - sg, NBS_TOP_BRIX, 80.0, close=1e-10)


def sg_from_brix(brix: float) -> float:
    """Specific gravity 20/20 of a sugar solution, a pure number, from Brix (% by mass).

    Range: -10 to 79 Brix. Errors: ValueError outside; 2e-4 between tables of repute.
    Formula: the NBS cubic solved for S up to 40, the ICUMSA density above.

    >>> sg_from_brix(25.0)
    1.10563

    Source: cubic fit to the NBS Circular C440 table of Brix against apparent specific gravity.
    """
    within("sugar", brix, -10, 79, "Brix")
    if brix > NBS_TOP_BRIX:
        return _heavy(brix)
    return _solved(_nbs, _nbs_slope, brix, 1.0 + brix / 240.0)


def plato_from_sg(sg: float) -> float:
    """Extract of a must, in degrees Plato (% by mass), from specific gravity 20/20.

    Range: 0.96 to 1.409. Errors: ValueError outside.
    Formula: the Brix curve. The brewers' own cubic agrees to 1e-5 in gravity up to 20 and
    drifts above 25, where meads begin, so it is not used.

    >>> plato_from_sg(1.04837)
    12.00

    Source: NBS Circular C440 fit; ASBC polynomial as a check to 22 degrees.
    """
    return brix_from_sg(sg)


def sg_from_plato(plato: float) -> float:
    """Specific gravity 20/20, a pure number, from degrees Plato (% by mass).

    Range: -10 to 79 degrees. Errors: ValueError outside.
    Formula: the Brix curve, solved for gravity.

    >>> sg_from_plato(12.0)
    1.04837

    Source: NBS Circular C440 fit; ASBC polynomial as a check to 22 degrees.
    """
    return sg_from_brix(plato)


def sugar_g_per_l_from_sg(sg: float) -> float:
    """Sugar in a litre of an unfermented must at 20 °C, in g/L as sucrose.

    Range: 0.96 to 1.409. Below 1.000 the answer is negative: an apparent figure, of use only
    for differences. Errors: ValueError outside.
    Formula: Brix / 100 x density.

    >>> sugar_g_per_l_from_sg(1.08297)
    216.2

    Source: NBS Circular C440 fit and the definition of mass concentration.
    """
    return brix_from_sg(sg) / 100.0 * density_from_sg(sg)


def points(sg: float) -> float:
    """Gravity points, thousandths of specific gravity above water.

    Range: 0.96 to 1.409. Errors: ValueError outside. Formula: (SG - 1) x 1000.

    >>> points(1.042)
    42.0

    Source: common practice.
    """
    return (within("specific gravity", sg, LOWEST_SG, HIGHEST_SG) - 1.0) * 1000.0
