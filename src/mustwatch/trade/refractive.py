"""Refractive index and sugar, and the refractometer's own temperature correction."""

from bisect import bisect_right

from .limits import within

WATER_ND = 1.3330
ETHANOL_PCT = (0, 1, 3, 5, 7, 9, 11, 13, 15, 18)
ETHANOL_ND = (1.3330, 1.3336, 1.3348, 1.3360, 1.3374, 1.3388, 1.3403, 1.3417, 1.3432, 1.3455)

COLUMNS_PCT = (10, 15, 20, 25, 30, 35, 40)
CORRECTIONS = {
    5: (-0.82, -0.87, -0.92, -0.95, -0.99),
    6: (-0.80, -0.82, -0.87, -0.90, -0.94),
    7: (-0.74, -0.78, -0.82, -0.84, -0.88),
    8: (-0.69, -0.73, -0.76, -0.79, -0.82),
    9: (-0.64, -0.67, -0.71, -0.73, -0.75),
    10: (-0.59, -0.62, -0.65, -0.67, -0.69, -0.71, -0.72),
    11: (-0.54, -0.57, -0.59, -0.61, -0.63, -0.64, -0.65),
    12: (-0.49, -0.51, -0.53, -0.55, -0.56, -0.57, -0.58),
    13: (-0.43, -0.45, -0.47, -0.48, -0.50, -0.51, -0.52),
    14: (-0.38, -0.39, -0.40, -0.42, -0.43, -0.44, -0.44),
    15: (-0.32, -0.33, -0.34, -0.35, -0.36, -0.37, -0.37),
    16: (-0.26, -0.27, -0.28, -0.28, -0.29, -0.30, -0.30),
    17: (-0.20, -0.20, -0.21, -0.21, -0.22, -0.22, -0.23),
    20: (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
}


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


def refractometer_correction(shown_brix: float, sample_c: float) -> float:
    """What to add to a reading taken off 20 °C without automatic compensation, in Brix.

    Range: 10 to 40 Brix (to 30 below 10 °C), 5 to 20 °C; the warm half of the table was not to be
    had, so cool a warm sample. Errors: ValueError outside; 0.01 Brix.
    Formula: straight lines between the rows and columns of the table.

    >>> refractometer_correction(20.0, 10.0)
    -0.65

    Source: OIV-MA-AS2-02, Table I.
    """
    within("sample temperature for a refractometer", sample_c, 5, 20, "°C")
    within("refractometer reading", shown_brix, 10, 40 if sample_c >= 10 else 30, "Brix")
    rows = sorted(CORRECTIONS)
    upper = next(row for row in rows if row >= sample_c)
    lower = max(row for row in rows if row <= sample_c)
    low, high = _across(CORRECTIONS[lower], shown_brix), _across(CORRECTIONS[upper], shown_brix)
    return low if upper == lower else low + (high - low) * (sample_c - lower) / (upper - lower)


def _across(row: tuple[float, ...], shown_brix: float) -> float:
    left = min(int((shown_brix - 10) // 5), len(row) - 2)
    return row[left] + (row[left + 1] - row[left]) * (shown_brix - COLUMNS_PCT[left]) / 5
