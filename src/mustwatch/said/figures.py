"""Figures in the scales a cellar has settled on, with their units: the one place where they are written."""

from collections.abc import Sequence

from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import counted
from mustwatch.trade.gravity import brix_from_sg, plato_from_sg

CELSIUS = Settings()
SIGNS = {"sg": "", "brix": " Bx", "plato": " P"}


def degree_sign(settings: Settings) -> str:
    """The unit of temperatures as it stands beside a field: °C or °F."""
    return f"°{settings.temperature}"


def degrees(celsius: float, settings: Settings = CELSIUS) -> str:
    """A temperature in the cellar's scale, to a tenth where there is one.

    >>> degrees(21), degrees(21.11), degrees(21.11, Settings(temperature="F"))
    ('21 °C', '21.1 °C', '70 °F')
    """
    value = celsius * 9 / 5 + 32 if settings.temperature == "F" else celsius
    return f"{round(value, 1) + 0.0:g} °{settings.temperature}"


def warmth(kelvin: float, settings: Settings = CELSIUS) -> str:
    """A difference of temperatures in the cellar's scale.

    >>> warmth(5), warmth(5, Settings(temperature="F"))
    ('5 °C', '9 °F')
    """
    value = kelvin * 9 / 5 if settings.temperature == "F" else kelvin
    return f"{round(value, 1) + 0.0:g} °{settings.temperature}"


def gravity(sg: float, settings: Settings = CELSIUS, digits: int = 3) -> str:
    """A gravity in the cellar's scale; specific gravity where the other has no figure for it.

    digits: decimals of a specific gravity: three as a hydrometer is read, four where it was reckoned.

    >>> gravity(1.0419), gravity(1.0419, Settings(gravity="brix"))
    ('1.042', '10.4 Bx')
    """
    if settings.gravity == "sg":
        return f"{sg:.{digits}f}"
    try:
        return f"{(brix_from_sg if settings.gravity == 'brix' else plato_from_sg)(sg):.1f}{SIGNS[settings.gravity]}"
    except ValueError:
        return f"{sg:.3f} SG"


def gravities(low_sg: float, high_sg: float, settings: Settings = CELSIUS) -> str:
    """A range of gravities.

    >>> gravities(0.996, 1.004), gravities(0.9961, 0.9962)
    ('0.996 to 1.004', '0.996')
    """
    low, high = gravity(low_sg, settings), gravity(high_sg, settings)
    return low if low == high else f"{low} to {high}"


def observed(value: float, scale: str) -> str:
    """A gravity as it was read, in the scale it was read in; a fourth decimal where one was given.

    >>> observed(1.042, "sg"), observed(1.0424, "sg"), observed(10.5, "brix"), observed(1042, "sg")
    ('1.042', '1.0424', '10.5 Bx', '1042')
    """
    if scale == "sg" and 0.9 < value < 1.3:
        return f"{value:.3f}" if abs(value * 1000 - round(value * 1000)) < 0.05 else f"{value:.4f}"
    return f"{value:g}{SIGNS.get(scale, f' {scale}')}"


def acidity(ph: float, limit: float) -> str:
    """A pH beside a limit: to a tenth, and finer where a tenth would hide on which side it lies.

    >>> acidity(3.14, 3.2), acidity(3.16, 3.2), acidity(3.196, 3.2), acidity(3.0, 3.0)
    ('3.1', '3.16', '3.196', '3.0')
    """
    told = (round(ph, 1), round(ph, 2), ph)
    figure = next((each for each in told if (each < limit, each > limit) == (ph < limit, ph > limit)), ph)
    return f"{figure:.1f}" if figure == round(figure, 1) else f"{figure:.4g}"


def points(count: float) -> str:
    """Gravity points in whole numbers.

    >>> points(0.8), points(4.2)
    ('1 point', '4 points')
    """
    return counted(round(count), "point")


def grams(mass_g: float) -> str:
    """A mass in four figures: what was an ounce is no 28.3495 g on a kitchen scale.

    >>> grams(28.3495), grams(1474.2)
    ('28.35 g', '1.474 kg')
    """
    return f"{mass_g:.4g} g" if mass_g < 1000 else f"{mass_g / 1000:.4g} kg"


def litres(volume_l: float) -> str:
    """A volume as somebody would measure it: millilitres, hundredths of a litre, tenths from ten litres on.

    >>> litres(18.9271), litres(4.5), litres(0.35)
    ('18.9 L', '4.5 L', '350 ml')
    """
    if abs(volume_l) < 1:
        return f"{volume_l * 1000:.0f} ml"
    return f"{round(volume_l, 1 if volume_l >= 10 else 2):g} L"


def score_words(score: float) -> str:
    """A score: `8 of 10`.

    >>> score_words(8.0), score_words(6.5)
    ('8 of 10', '6.5 of 10')
    """
    return f"{score:g} of 10"


def times(count: int) -> str:
    """`once`, `twice`, `3 times`."""
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def listed(names: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part) if names else ""
