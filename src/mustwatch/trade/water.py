"""Density of water, the yardstick of every gravity."""

from .limits import within


def water_density(temp_c: float) -> float:
    """Density of air-free water at one atmosphere, in kg/m³.

    Range: 0 to 100 °C. Errors: ValueError outside it; within 0.01 kg/m³ of IAPWS-95.
    Formula: Kell's rational polynomial in its ITS-90 form.

    >>> water_density(20.0)
    998.203
    >>> water_density(4.0)
    999.97

    Source: Kell, J. Chem. Eng. Data 20 (1975) 97, coefficients refitted to the ITS-90 scale.
    """
    t = within("water temperature", temp_c, 0, 100, "°C")
    top = 999.83952 + t * (
        16.952577 + t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 - t * 281.03006e-12)))
    )
    return top / (1 + 16.887236e-3 * t)


WATER_20_KG_M3 = water_density(20.0)
"""Density of water at 20 °C in kg/m³, for the scales tied to it."""
