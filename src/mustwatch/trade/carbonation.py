"""Carbon dioxide in the glass: what is dissolved, what sugar makes, what a bottle will hold.

Solubility in water is the IAPWS Henry constant; wine at 20 °C is the European method's formula.
At other temperatures no published formula was at hand, so the smaller of two known temperature
laws is used: less gas dissolved means more pressure, the cautious side for glass.
"""

from math import exp

from .limits import within
from .water import water_density

ATMOSPHERE_BAR = 1.01325
COLDEST_C = -2.0  # mead stays liquid there, and a crash may reach it
GRAMS_PER_VOLUME = 1.951 / 0.987  # g/L in one volume (1 L gas at 0 °C, 1 atm): the two forms of EC 2676/90 ch. 37
GRAMS_PER_POINT = 0.99  # g/L CO2 for 0.001 of gravity fermented: 0.131 % vol, 1.03 g/L ethanol, stoichiometry
VOLUMES_PER_POINT = 0.50  # the same in volumes
GLUCOSE_GRAMS_PER_VOLUME = 3.7  # hobby rule, common practice; the chemistry gives 4.05

_HEXOSE = 2 * 44.0095 / 180.156
_DISACCHARIDE = 4 * 44.0095 / 342.297
CO2_SHARE = {
    "glucose": _HEXOSE,
    "glucose monohydrate": 2 * 44.0095 / 198.171,
    "fructose": _HEXOSE,
    "sucrose": _DISACCHARIDE,
    # White et al., USDA Technical Bulletin 1261: 69.5 g hexoses, 8.4 g disaccharides,
    # 1.5 g higher sugars in 100 g; all counted as fermentable, the cautious side.
    "honey": 0.695 * _HEXOSE + (0.084 + 0.015) * _DISACCHARIDE,
}


def _vapour_pressure_mpa(kelvin: float) -> float:
    tau = 1 - kelvin / 647.096
    terms = (
        -7.85951783 * tau
        + 1.84408259 * tau**1.5
        - 11.7866497 * tau**3
        + 22.6807411 * tau**3.5
        - 15.9618719 * tau**4
        + 1.80122502 * tau**7.5
    )
    return 22.064 * exp(647.096 / kelvin * terms)


def henry_constant_mpa(temp_c: float) -> float:
    """Henry constant of CO2 in water (partial pressure over mole fraction), in MPa.

    Range: temp_c: °C, -2 to 60 (the guideline starts at 1.04 °C; the last degrees are carried on).

    >>> henry_constant_mpa(20.0)
    144.89

    Errors: outside the range, ValueError naming it. About 0.5 %.
    Formula: ln(k/p*) = A/Tr + B tau^0.355/Tr + C Tr^-0.41 e^tau, p* the vapour pressure of water.
    Source: IAPWS Guideline on the Henry's constant (Fernandez-Prini, Alvarez, Harvey 2003).
    """
    within("Henry constant of CO2", temp_c, COLDEST_C, 60, "°C")
    kelvin = temp_c + 273.15
    ratio = kelvin / 647.096
    tau = 1 - ratio
    exponent = -8.55445 / ratio + 4.01195 * tau**0.355 / ratio + 9.52345 * ratio**-0.41 * exp(tau)
    return _vapour_pressure_mpa(kelvin) * exp(exponent)


def water_solubility(temp_c: float, partial_pressure_bar: float = ATMOSPHERE_BAR) -> float:
    """CO2 dissolved in pure water, in g/L, under the given partial pressure of CO2.

    Range: temp_c: °C, -2 to 60. partial_pressure_bar: bar absolute, 0 to 20.

    >>> water_solubility(20.0)
    1.707

    Errors: outside the range, ValueError naming it. 1 % against NIST's value at 25 °C.
    Formula: x = p/k; x/(1 - x) moles of CO2 to each mole of water.
    Source: IAPWS Henry constant; density Kell.
    """
    within("CO2 in water", partial_pressure_bar, 0, 20, "bar absolute")
    fraction = partial_pressure_bar * 0.1 / henry_constant_mpa(temp_c)
    return fraction / (1 - fraction) * water_density(max(0.0, temp_c)) / 18.015268 * 44.0095


def _champagne_ratio(temp_c: float) -> float:
    return exp(24800 / 8.314463 * (1 / (temp_c + 273.15) - 1 / 293.15))


def solubility(temp_c: float, abv: float = 0.0, sugar_g_per_l: float = 0.0) -> float:
    """CO2 dissolved per bar of its absolute pressure, in g/(L bar); on the low, cautious side.

    Range: temp_c: °C, -2 to 50. abv: % vol, 0 to 25. sugar_g_per_l: 0 to 400.

    >>> solubility(20.0)
    1.684
    >>> solubility(30.0, abv=12.0)
    1.04

    Errors: outside the range, ValueError naming it. Up to 7 % low when cold (champagne, 10 °C).
    Formula: water at t x (0.86 - 0.01 A)/0.86 x (1 - 0.00144 S), times the steeper ratio when warm.
    Source: IAPWS water value with the alcohol and sugar terms of EC 2676/90; above 20 °C the
    steeper law of sparkling wine takes over as the alcohol nears 12 %.
    """
    within("CO2 solubility", temp_c, COLDEST_C, 50, "°C")
    within("CO2 solubility", abv, 0, 25, "% vol")
    within("CO2 solubility", sugar_g_per_l, 0, 400, "g/L sugar")
    share = (0.86 - 0.01 * abv) / 0.86 * (1 - 0.00144 * sugar_g_per_l)
    value = water_solubility(temp_c, 1.0) * share
    if temp_c > 20 and abv > 0:
        steeper = _champagne_ratio(temp_c) * water_solubility(20.0, 1.0) / water_solubility(temp_c, 1.0)
        value *= min(1.0, steeper) ** min(1.0, abv / 12.0)
    return value


def residual_co2(warmest_c: float) -> float:
    """CO2 left after fermentation, in g/L: saturation at 1 atm at the warmest it has been since.

    Range: warmest_c: °C, -2 to 40; the water value, some 15 % high for wine of 13 % (the cautious side).

    >>> residual_co2(20.0)
    1.7

    Errors: outside the range, ValueError naming it. 0.1 g/L against the published brewing table.
    Formula: saturation at a partial pressure of 1 atm.
    Source: IAPWS Henry constant at a partial pressure of 1 atm.
    """
    return water_solubility(warmest_c)


def residual_volumes(warmest_c: float) -> float:
    """Volumes of CO2 left after fermentation at the warmest temperature since its end.

    Range: warmest_c: °C, -2 to 40.

    >>> residual_volumes(20.0)
    0.86

    Errors: outside the range, ValueError naming it.
    Formula: residual CO2 / 1.977 g/L.
    Source: residual_co2; hobby practice quotes 1.7, 1.2, 0.99, 0.88 at 0, 10, 16, 20 °C.
    """
    within("residual CO2", warmest_c, COLDEST_C, 40, "°C")
    return residual_co2(warmest_c) / GRAMS_PER_VOLUME


def co2_share(kind: str) -> float:
    """Grams of CO2 that one gram of the sugar can make: theory, all of it fermented.

    Range: kind: glucose, glucose monohydrate (dextrose as sold), fructose, sucrose or honey.

    >>> co2_share("sucrose")
    0.514

    Errors: an unknown kind, ValueError naming those known.
    Formula: 2 (or 4) x 44.0095 / molar mass of the sugar.
    Source: C6H12O6 -> 2 C2H5OH + 2 CO2; Balling's yield is some 5 % lower, so pressure is on the high side.
    """
    if kind not in CO2_SHARE:
        raise ValueError(f"sugar kind is one of {', '.join(CO2_SHARE)}; got {kind!r}")
    return CO2_SHARE[kind]


def volumes_from_sugar(g_per_l: float, kind: str = "sucrose") -> float:
    """Volumes of CO2 that priming sugar makes when all of it ferments.

    Range: g_per_l: grams of the sugar as weighed, per litre, 0 to 400. kind: see co2_share.

    >>> volumes_from_sugar(4.0, "sucrose")
    1.04

    Errors: negative or absurd sugar, ValueError naming the range.
    Formula: g/L x share / 1.977.
    Source: co2_share; tirage practice is 4 g/L for each atmosphere, 24 g/L for about 6.
    """
    within("priming sugar", g_per_l, 0, 400, "g/L")
    return g_per_l * co2_share(kind) / GRAMS_PER_VOLUME


def priming_sugar(volumes: float, warmest_c: float, kind: str = "sucrose") -> float:
    """Sugar to reach a carbonation, in g/L as weighed; 0 when the residual alone reaches it.

    Range: volumes: wanted, 0 to 8. warmest_c: °C since fermentation ended, -2 to 40. kind: see co2_share.

    >>> priming_sugar(2.4, 20.0, "glucose")
    6.22

    Errors: outside the range, ValueError naming it.
    Formula: (wanted - residual) x 1.977 / share.
    Source: mass balance of CO2; the hobby rule (2.4 - 0.88) x 3.7 gives 5.62.
    """
    within("carbonation", volumes, 0, 8, "volumes")
    wanted = max(0.0, volumes - residual_volumes(warmest_c))
    return wanted * GRAMS_PER_VOLUME / co2_share(kind)


def volumes_to_reach(sugar_g_per_l: float, kind: str, warmest_c: float, points_above_dry: float = 0.0) -> float:
    """Volumes of CO2 a bottle can end with: residual, priming sugar, and gravity still above dry.

    Range: sugar_g_per_l: priming sugar. warmest_c: °C since the end. points_above_dry: 0.001 of gravity, 0 to 150.

    >>> volumes_to_reach(4.0, "sucrose", 20.0, points_above_dry=1.0)
    2.4

    Errors: outside the range, ValueError naming it.
    Formula: residual + sugar x share / 1.977 + 0.5 x points.
    Source: mass balance; one gravity point still to ferment is half a volume.
    """
    within("gravity above dry", points_above_dry, 0, 200, "points")
    primed = volumes_from_sugar(sugar_g_per_l, kind)
    return residual_volumes(warmest_c) + primed + VOLUMES_PER_POINT * points_above_dry
