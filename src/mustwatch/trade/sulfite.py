"""Sulfite: how much of the free sulfur dioxide is molecular, what to add, and where the law ends.

The share follows the pH so steeply that no dose is given without one. pK 1.81 is the working
value: it asks for more sulfite than the OIV table does, the cautious side for keeping.
"""

from bisect import bisect_right
from dataclasses import dataclass

from .limits import within

WORKING_PK = 1.81  # reproduces the University of California extension table, pH 2.9 to 4.0
METABISULFITE_SO2_SHARE = 0.576  # potassium salt: 2 x 64.064 / 222.32
SO2_PER_OXYGEN = 4.0  # mg SO2 used up by 1 mg oxygen: 2 SO2 + O2, stoichiometry
LABEL_MG_PER_L = 10.0  # from here a label must say "contains sulfites" in the US and the EU
MOLECULAR_MG_PER_L = {"dry": 0.5, "sweet": 0.8}

TABLE_TEMPS_C = (20.0, 25.0, 30.0, 35.0, 40.0)
TABLE_ABV = (0.0, 5.0, 10.0, 15.0, 20.0)
PK_TABLE = (  # OIV-MA-AS323-04C Table I; the 20 % row from memory
    (1.798, 2.000, 2.219, 2.334, 2.493),
    (1.897, 2.098, 2.299, 2.397, 2.527),
    (1.997, 2.198, 2.394, 2.488, 2.606),
    (2.099, 2.301, 2.503, 2.607, 2.728),
    (2.203, 2.406, 2.628, 2.754, 2.895),
)


@dataclass(frozen=True, slots=True)
class Limit:
    """A legal maximum: whose, for what, how much, and how the figure is known."""

    where: str
    what: str
    mg_per_l: float
    source: str


TOTAL_SO2_LIMITS = (
    Limit("EU", "mead", 200, "Regulation (EC) 1333/2008, category 14.2.5; from memory"),
    Limit("EU", "white wine under 5 g/L sugar", 200, "Regulation (EU) 2019/934, annex I B"),
    Limit("EU", "white wine from 5 g/L sugar", 250, "Regulation (EU) 2019/934, annex I B"),
    Limit("US", "wine", 350, "27 CFR 4.22(b)(1)"),
    Limit("OIV", "red wine to 4 g/L sugar", 150, "OIV resolution OENO 9/98"),
    Limit("OIV", "white wine to 4 g/L sugar", 200, "OIV resolution OENO 9/98"),
    Limit("OIV", "wine over 4 g/L sugar", 300, "OIV resolution OENO 9/98"),
)


def molecular_share(ph: float, pk: float = WORKING_PK) -> float:
    """Share of the free SO2 that is molecular, as a fraction of 1.

    Range: ph 2.5 to 5.0; pk 1.5 to 3.5.
    Errors: ValueError outside. A tenth of a pH unit moves the answer by a fifth.
    Formula: 1 / (1 + 10^(pH - pK)).

    >>> molecular_share(3.3)
    0.031

    Source: University of California Cooperative Extension, Enology Briefs 1 no. 1 (1982).
    """
    within("pH", ph, 2.5, 5.0)
    within("pK of SO2", pk, 1.5, 3.5)
    return 1 / (1 + 10 ** (ph - pk))


def free_so2_needed(ph: float | None, molecular_mg_per_l: float = 0.8, pk: float = WORKING_PK) -> float:
    """Free SO2 that gives the wanted molecular SO2, in mg/L.

    Range: ph 2.5 to 5.0; molecular 0.1 to 2 mg/L.
    Errors: ValueError outside, and where the pH is not known: there is no dose without it.
    Formula: molecular / share.

    >>> round(free_so2_needed(3.5))
    40

    Source: university extension table of SO2 additions; 0.8 mg/L for sweet and white, 0.5 for dry.
    """
    if ph is None:
        raise ValueError("no sulfite dose without the pH: measure it first (a meter, not a strip)")
    within("molecular SO2", molecular_mg_per_l, 0.1, 2.0, "mg/L")
    return molecular_mg_per_l / molecular_share(ph, pk)


def _place(steps: tuple[float, ...], value: float) -> tuple[int, float]:
    """Cell and fraction of the way through it."""
    cell = min(bisect_right(steps, value), len(steps) - 1) - 1
    return cell, (value - steps[cell]) / (steps[cell + 1] - steps[cell])


def pk_thermodynamic(abv: float, temp_c: float) -> float:
    """First pK of SO2 at zero ionic strength, dimensionless, by alcohol and temperature.

    Range: 0 to 20 % vol (above 15 from memory), 20 to 40 °C.
    Errors: ValueError outside. Handbooks put water at 25 °C near 1.8, this table 2.000: do not mix.
    Formula: interpolation in both directions between the printed rows.

    >>> pk_thermodynamic(10.0, 20.0)
    1.997

    Source: OIV-MA-AS323-04C, Table I.
    """
    within("alcohol in the OIV SO2 table", abv, 0, 20, "% vol")
    within("temperature in the OIV SO2 table", temp_c, 20, 40, "°C")
    row, down = _place(TABLE_ABV, abv)
    column, across = _place(TABLE_TEMPS_C, temp_c)

    def along(line: tuple[float, ...]) -> float:
        return line[column] + across * (line[column + 1] - line[column])

    upper, lower = along(PK_TABLE[row]), along(PK_TABLE[row + 1])
    return upper + down * (lower - upper)


def pk_mixed(abv: float, temp_c: float) -> float:
    """First pK of SO2 in wine (mixed constant at ionic strength 0.038), dimensionless.

    Range: 0 to 20 % vol, 20 to 40 °C.
    Errors: ValueError outside; 0.005 against the rows known of Table II.
    Formula: pK of Table I less 0.075 + 0.0006 x % vol, the activity term.

    >>> pk_mixed(12.0, 20.0)
    1.956

    Source: OIV-MA-AS323-04C, Tables I and II (Table II from memory).
    """
    return pk_thermodynamic(abv, temp_c) - 0.075 - 0.0006 * abv


def metabisulfite_g(so2_mg_per_l: float, volume_l: float, strength: float = METABISULFITE_SO2_SHARE) -> float:
    """Potassium metabisulfite that adds so much SO2, in grams.

    Range: 0 to 500 mg/L; 0 to 2000 L; strength 0.3 to 0.7 (fresh salt 0.576; it weakens in store).
    Errors: ValueError outside.
    Formula: mg/L x L / 1000 / strength.

    >>> metabisulfite_g(50, 100)
    8.68

    Source: stoichiometry of K2S2O5; Practical Winery and Vineyard, January 2014, p. 58.
    """
    within("SO2 addition", so2_mg_per_l, 0, 500, "mg/L")
    within("volume", volume_l, 0, 2000, "L")
    within("strength of the sulfite", strength, 0.3, 0.7)
    return so2_mg_per_l * volume_l / 1000 / strength


@dataclass(frozen=True, slots=True)
class SulfiteDose:
    """What to add now: mg/L of SO2 and grams of metabisulfite, before and after binding."""

    free_target_mg_per_l: float
    add_mg_per_l: float
    salt_g: float
    salt_if_half_binds_g: float
    total_after_mg_per_l: float
    total_if_half_binds_mg_per_l: float
    oiv_free_target_mg_per_l: float | None


def sulfite_dose(
    ph: float | None,
    volume_l: float,
    free_now_mg_per_l: float = 0.0,
    total_now_mg_per_l: float = 0.0,
    molecular_mg_per_l: float = 0.8,
    abv: float | None = None,
    temp_c: float | None = None,
) -> SulfiteDose:
    """The sulfite dose for a pH: mg/L of SO2 and grams of potassium metabisulfite.

    Range: ph 2.5 to 5.0; volume 0 to 2000 L; free and total 0 to 500 mg/L.
    Errors: ValueError outside, and without a pH. A quarter to a half of an addition binds, so the
    first dose is made for none bound: measure free SO2 after a day and add the rest.
    Formula: (needed - free now) x L / 1000 / 0.576.

    >>> sulfite_dose(3.5, 3.785).salt_g
    0.26

    Source: university extension table of SO2 additions; OIV figure beside it by Table I.
    """
    within("free SO2", free_now_mg_per_l, 0, 500, "mg/L")
    within("total SO2", total_now_mg_per_l, 0, 1000, "mg/L")
    target = free_so2_needed(ph, molecular_mg_per_l)
    add = max(0.0, target - free_now_mg_per_l)
    total_now = max(total_now_mg_per_l, free_now_mg_per_l)
    oiv = None
    if ph is not None and abv is not None and temp_c is not None and 20 <= temp_c <= 40 and abv <= 20:
        oiv = free_so2_needed(ph, molecular_mg_per_l, pk_mixed(abv, temp_c))
    salt = _checked_salt(add, volume_l)
    return SulfiteDose(target, add, salt, 2 * salt, total_now + add, total_now + 2 * add, oiv)


def _checked_salt(add_mg_per_l: float, volume_l: float) -> float:
    if add_mg_per_l > 500:
        raise ValueError("at this pH no lawful dose reaches that molecular SO2: lower the pH first")
    return metabisulfite_g(add_mg_per_l, volume_l)
