"""Numbers as they are shown: no more digits than the kitchen, the glass and the formula can bear."""

from mustwatch.ledger.settings import Settings
from mustwatch.said import figures
from mustwatch.said.figures import degrees
from mustwatch.said.figures import gravity as sg
from mustwatch.trade.units import POUND_KG, US_GALLON_L

from .kinds import PSI_BAR

__all__ = ["alcohol", "alcohol_span", "bar", "celsius", "fine_scale", "grams", "kilograms", "litres", "mg_per_l", "sg"]
FAHRENHEIT = Settings(temperature="F")


def alcohol(abv: float) -> str:
    """Alcohol to the half per cent, with "about".

    >>> alcohol(13.62)
    'about 13.5 % vol'
    """
    return f"about {round(abv * 2) / 2:g} % vol"


def alcohol_span(low: float, high: float) -> str:
    """Alcohol from and to, to the half per cent.

    >>> alcohol_span(12.87, 13.8)
    '13 to 14 % vol'
    """
    first, last = round(low * 2) / 2, round(high * 2) / 2
    return f"{first:g} to {last:g} % vol" if first < last else f"about {first:g} % vol"


def grams(amount: float) -> str:
    """A small mass as a kitchen scale shows it.

    >>> grams(106.8), grams(5.04), grams(0.265)
    ('107 g', '5.0 g', '0.27 g')
    """
    if amount >= 9.95:
        return f"{amount:.0f} g"
    if amount >= 1 or amount == 0:
        return f"{amount:.1f} g"
    return f"{amount:.2f} g"


def fine_scale(*amounts: float) -> tuple[str, ...]:
    """The caution that belongs to grams below one, if any are.

    >>> fine_scale(5.0)
    ()
    """
    small = any(0 < amount < 0.995 for amount in amounts)
    return ("Under 1 g needs a scale that shows 0.01 g: spoons are no measure.",) if small else ()


def kilograms(amount: float) -> str:
    """A large mass in kilograms and pounds, or grams below one.

    >>> kilograms(5.953)
    '5.95 kg (13.1 lb)'
    """
    if amount < 1:
        return f"{grams(amount * 1000)} ({amount / POUND_KG * 16:.1f} oz)"
    return f"{amount:.2f} kg ({amount / POUND_KG:.1f} lb)"


def litres(amount: float) -> str:
    """A volume in litres and US gallons, or millilitres below one litre.

    >>> litres(18.93)
    '18.9 L (5.00 US gal)'
    """
    gallons = f" ({amount / US_GALLON_L:.2f} US gal)" if abs(amount) >= 1 else ""
    return figures.litres(amount) + gallons


def bar(value: float) -> str:
    """A gauge pressure to a tenth of a bar, psi beside it.

    >>> bar(2.796)
    '2.8 bar (41 psi)'
    """
    return f"{value:.1f} bar ({value / PSI_BAR:.0f} psi)"


def celsius(value: float) -> str:
    """A temperature in both scales.

    >>> celsius(20.0)
    '20 °C (68 °F)'
    """
    return f"{degrees(value)} ({degrees(round(value), FAHRENHEIT)})"


def mg_per_l(value: float) -> str:
    """A concentration to the milligram.

    >>> mg_per_l(39.96)
    '40 mg/L'
    """
    return f"{value:.0f} mg/L"
