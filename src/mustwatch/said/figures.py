"""Figures in the scales a cellar has settled on: its temperature and its gravity."""

from __future__ import annotations

from collections.abc import Sequence

from mustwatch.ledger.settings import Settings

CELSIUS = Settings()


def degrees(celsius: float, settings: Settings = CELSIUS) -> str:
    """A temperature to a tenth, in the cellar's scale.

    >>> degrees(21.11), degrees(21.11, Settings(temperature="F"))
    ('21.1 C', '70 F')
    """
    if settings.temperature == "F":
        return f"{round(celsius * 9 / 5 + 32, 1):g} F"
    return f"{round(celsius, 1):g} C"


def gravity(sg: float, settings: Settings = CELSIUS) -> str:
    """A gravity in the cellar's scale; specific gravity where the other has no figure for it.

    >>> gravity(1.0419), gravity(1.0419, Settings(gravity="brix"))
    ('1.042', '10.4 Bx')
    """
    if settings.gravity == "sg":
        return f"{sg:.3f}"
    from mustwatch.trade.gravity import brix_from_sg, plato_from_sg

    try:
        return f"{brix_from_sg(sg):.1f} Bx" if settings.gravity == "brix" else f"{plato_from_sg(sg):.1f} P"
    except ValueError:
        return f"{sg:.3f} SG"


def grams(mass_g: float) -> str:
    """A mass in four figures: what was an ounce is no 28.3495 g on a kitchen scale.

    >>> grams(28.3495), grams(1474.2)
    ('28.35 g', '1.474 kg')
    """
    return f"{mass_g:.4g} g" if mass_g < 1000 else f"{mass_g / 1000:.4g} kg"


def litres(volume_l: float) -> str:
    """A volume as somebody would measure it: a tenth of a litre, a hundredth below ten.

    >>> litres(18.9271), litres(4.5), litres(0.3)
    ('18.9 l', '4.5 l', '0.3 l')
    """
    return f"{round(volume_l, 1 if volume_l >= 10 else 2):g} l"


def listed(names: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part) if names else ""
