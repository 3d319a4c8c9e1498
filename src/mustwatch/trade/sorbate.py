"""Potassium sorbate: the dose by alcohol and pH, its legal ceiling, and when it must not be used.

It stops yeast from budding; it does not stop a live fermentation, and it never replaces sulfite.
"""

from bisect import bisect_right

from .limits import within
from .sulfite import Limit

ACID_SHARE = 112.13 / 150.22  # sorbic acid in its potassium salt, stoichiometry: 0.746
TABLE_ABV = (10.0, 11.0, 12.0, 13.0, 14.0)
TABLE_PH = (3.1, 3.2, 3.3, 3.4, 3.5)
SOLUTION_ML_PER_L = (  # Underhill, Making Better Wines: mL of a 30 g/L solution to each litre
    (5.5, 6.0, 7.0, 8.0, 9.0),
    (4.5, 5.0, 6.0, 7.0, 7.5),
    (3.2, 3.5, 4.0, 4.5, 5.0),
    (2.6, 3.0, 3.2, 3.5, 4.0),
    (2.0, 2.2, 2.4, 2.7, 3.0),
)
SORBIC_LIMITS = (
    Limit("EU", "mead and wine", 200, "Regulation (EC) 1333/2008; OIV II.3.4.5"),
    Limit("US", "wine", 300, "as quoted from 27 CFR 24.246, its row not read at the source"),
)


def _place(steps: tuple[float, ...], value: float) -> tuple[int, float]:
    cell = min(bisect_right(steps, value), len(steps) - 1) - 1
    return cell, (value - steps[cell]) / (steps[cell + 1] - steps[cell])


def sorbate_dose(abv: float, ph: float) -> float:
    """Potassium sorbate that keeps a finished, sulfited wine from starting again, in mg/L of the salt.

    Range: 10 to 20 % vol and pH 2.5 to 3.5; above 14 % and below pH 3.1 the edge of the table is kept.
    Errors: ValueError below 10 % vol or above pH 3.5, where no dose can be relied on; 3 mg/L.
    Formula: 30 x mL/L, interpolated between alcohols and pH.

    >>> round(sorbate_dose(12.0, 3.3))
    120

    Source: Underhill, Making Better Wines, sorbate table.
    """
    if abv < TABLE_ABV[0]:
        raise ValueError(f"sorbate cannot be relied on below 10 % vol (got {abv:g}): keep it dry or cold instead")
    if ph > TABLE_PH[-1]:
        raise ValueError(f"sorbate cannot be relied on above pH 3.5 (got {ph:g}): lower the pH, or keep it dry or cold")
    within("alcohol for sorbate", abv, 10, 25, "% vol")
    within("pH for sorbate", ph, 2.5, 3.5)
    row, down = _place(TABLE_ABV, min(abv, TABLE_ABV[-1]))
    column, across = _place(TABLE_PH, max(ph, TABLE_PH[0]))

    def along(line: tuple[float, ...]) -> float:
        return line[column] + across * (line[column + 1] - line[column])

    upper, lower = along(SOLUTION_ML_PER_L[row]), along(SOLUTION_ML_PER_L[row + 1])
    return 30 * (upper + down * (lower - upper))


def sorbic_acid(sorbate_mg_per_l: float) -> float:
    """Sorbic acid in a dose of potassium sorbate, in mg/L.

    Range: 0 to 2000 mg/L of the salt. Errors: ValueError outside.
    Formula: salt x 112.13 / 150.22.

    >>> round(sorbic_acid(120))
    90

    Source: stoichiometry.
    """
    return within("potassium sorbate", sorbate_mg_per_l, 0, 2000, "mg/L") * ACID_SHARE


def most_sorbate(sorbic_limit_mg_per_l: float = 200.0) -> float:
    """The most potassium sorbate a limit on sorbic acid allows, in mg/L of the salt.

    Range: 0 to 1000 mg/L sorbic acid. Errors: ValueError outside.
    Formula: limit x 150.22 / 112.13.

    >>> round(most_sorbate(200))
    268

    Source: limits as in SORBIC_LIMITS.
    """
    return within("sorbic acid limit", sorbic_limit_mg_per_l, 0, 1000, "mg/L") / ACID_SHARE


def reasons_against(
    *,
    stable: bool | None = None,
    sulfited: bool | None = None,
    malolactic: bool | None = None,
    will_prime: bool = False,
    fruit_acids: bool = False,
    ph: float | None = None,
) -> tuple[str, ...]:
    """Why sorbate must not, or not yet, go in: sentences, none when nothing known speaks against it.

    Range: each fact True, False or None for not known; what is not known counts as the worse.
    Errors: none.
    Formula: none; a list of the trade's conditions.

    >>> reasons_against(stable=True, sulfited=True, malolactic=False)
    ()

    Source: University of Minnesota enology; Oxford Companion to Wine, geranium; Underhill.
    """
    against = []
    if stable is not True:
        against.append("not while it may still ferment: sorbate does not stop live yeast")
    if sulfited is not True:
        against.append("not without sulfite: lactic bacteria turn sorbate into geranium taint, for good")
    if malolactic is not False:
        against.append("not after malolactic fermentation, wanted or not: geranium taint cannot be cured")
    if fruit_acids and (ph is None or ph > 3.5):
        against.append("apple and grape musts above pH 3.5 carry lactic bacteria: keep cold or dry instead")
    if will_prime:
        against.append("not before priming: sorbated yeast makes no bubbles, or uneven ones later")
    return tuple(against)
