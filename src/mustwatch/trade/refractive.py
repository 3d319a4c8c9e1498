"""Refractive index and sugar, and what ethanol adds to it."""

from bisect import bisect_right

from .limits import within

WATER_ND = 1.3330
ETHANOL_PCT = (0, 1, 3, 5, 7, 9, 11, 13, 15, 18)
ETHANOL_ND = (1.3330, 1.3336, 1.3348, 1.3360, 1.3374, 1.3388, 1.3403, 1.3417, 1.3432, 1.3455)


def brix_from_refractive_index(nd20: float) -> float:
    """Sugar of a plain sugar solution, in Brix, from its refractive index at 20 °C.

    Range: 1.3310 to 1.4910, about -1.4 to 80 Brix; below water (1.3330) the curve is carried on.
    Errors: ValueError outside; 0.05 Brix against the OIV table from 10 to 30 %.
    Formula: Bx = ((((11758.74 n - 88885.21) n + 270177.93) n - 413145.80) n + 318417.95) n - 99127.4536.

    >>> brix_from_refractive_index(1.36384)
    19.98

    Source: polynomial fit to the ICUMSA index table, as opened; checked on OIV-MA-AS2-02 Table II.
    """
    n = within("refractive index", nd20, 1.331, 1.491)
    return ((((11758.74 * n - 88885.21) * n + 270177.93) * n - 413145.80) * n + 318417.95) * n - 99127.4536


def refraction_from_brix(brix: float) -> float:
    """Refractive index at 20 °C, a pure number, of a sugar solution.

    Range: -1 to 79 Brix. Errors: ValueError outside.
    Formula: the polynomial of brix_from_refractive_index, solved by Newton's method.

    >>> refraction_from_brix(20.0)
    1.3639

    Source: as brix_from_refractive_index.
    """
    within("sugar", brix, -1, 79, "Brix")
    index = WATER_ND + brix * (0.001426 + brix * 6.5e-6)
    for _ in range(12):
        slope = ((58793.7 * index - 355540.84) * index + 810533.79) * index - 826291.60
        step = (brix_from_refractive_index(index) - brix) / (slope * index + 318417.95)
        index -= step
        if abs(step) < 1e-11:
            break
    return index


def ethanol_refraction(alcohol_pct: float) -> float:
    """By how much ethanol raises water's refractive index at 20 °C, a pure number.

    Range: 0 to 18 % by mass. Errors: ValueError outside; 1e-4.
    Formula: straight lines between the rows of the handbook.

    >>> round(1.3330 + ethanol_refraction(10.0), 4)
    1.3395

    Source: CRC Handbook of Chemistry and Physics, 102nd ed., concentrative properties of ethanol.
    """
    within("alcohol", alcohol_pct, 0, 18, "% by mass")
    right = min(bisect_right(ETHANOL_PCT, alcohol_pct), len(ETHANOL_PCT) - 1)
    left = right - 1
    part = (alcohol_pct - ETHANOL_PCT[left]) / (ETHANOL_PCT[right] - ETHANOL_PCT[left])
    return ETHANOL_ND[left] + part * (ETHANOL_ND[right] - ETHANOL_ND[left]) - WATER_ND
