"""Alcohol and extract weighed together: what each lends to the gravity of a drink."""

from .ethanol import density_from_abv
from .limits import within
from .sugar import brix_from_concentration, brix_from_density, sugar_solution_density
from .water import WATER_20_KG_M3

OIML_WATER_20_KG_M3 = density_from_abv(0.0)
"""Water as the alcohol formula has it, so that no alcohol weighs exactly nothing."""


def sg_from_alcohol_and_extract(abv: float, extract_g_per_l: float) -> float:
    """Specific gravity 20/20, a pure number, of a drink of known alcohol and extract.

    Range: 0 to 30 % vol, -60 to 520 g/L extract counted as sugar. Errors: ValueError outside.
    Formula: Tabarie, the lightness of the alcohol and the weight of the extract add up.

    >>> sg_from_alcohol_and_extract(10.29, 50.18)
    1.0055

    Source: OIV-MA-AS2-03B (Tabarie); OIML R 22; ICUMSA SPS-4.
    """
    within("alcohol", abv, 0, 30, "% vol")
    within("extract", extract_g_per_l, -60, 520, "g/L")
    return tabarie_sg(abv, residue_sg(extract_g_per_l))


def residue_sg(extract_g_per_l: float) -> float:
    """Specific gravity 20/20, a pure number, of a drink's extract made up to its volume with water.

    Range: -100 to 1100 g/L counted as sugar. Errors: ValueError outside.
    Formula: the sucrose solution of that concentration.

    >>> residue_sg(50.18)
    1.0194

    Source: OIV-MA-AS2-03B, which reads extract as sucrose; ICUMSA SPS-4.
    """
    return sugar_solution_density(brix_from_concentration(extract_g_per_l)) / WATER_20_KG_M3


def tabarie_sg(abv: float, rest_sg: float) -> float:
    """Specific gravity 20/20, a pure number, of a drink from its alcohol and its residue.

    Range: 0 to 100 % vol; rest_sg is the gravity of the drink with the alcohol boiled off and
    made up with water. Errors: ValueError outside.
    Formula: d of the drink = d of the residue + d of the alcohol - 1.

    >>> tabarie_sg(12.0, 1.0)
    0.98413

    Source: OIV-MA-AS2-03B (Tabarie); OIML R 22 for the alcohol.
    """
    return rest_sg + density_from_abv(abv) / OIML_WATER_20_KG_M3 - 1.0


def extract_g_per_l(sg: float, abv: float) -> float:
    """Extract counted as sugar in a drink of known gravity and strength, in g/L at 20 °C.

    Range: 0.970 to 1.200, 0 to 25 % vol; a few g/L below nought when the two do not quite fit.
    Errors: ValueError outside.
    Formula: Tabarie, d of the residue = d of the drink - d of its alcohol + 1; then sugar tables.

    >>> extract_g_per_l(1.0055, 10.29)
    50.2

    Source: OIV-MA-AS2-03B (Tabarie); OIML R 22; ICUMSA SPS-4.
    """
    within("specific gravity", sg, 0.97, 1.2)
    within("alcohol", abv, 0, 25, "% vol")
    rest_sg = sg - density_from_abv(abv) / OIML_WATER_20_KG_M3 + 1.0
    density = rest_sg * WATER_20_KG_M3
    return brix_from_density(density) / 100.0 * density
