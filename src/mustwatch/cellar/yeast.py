"""What a yeast can bear: its own limits where recorded, else those of its class, and it says which."""

from mustwatch.cellar.batch import YeastLimits
from mustwatch.ledger.events import Yeast
from mustwatch.ledger.settings import Settings
from mustwatch.trade.library import YEAST_CLASSES, yeast_classes

OWN_TOLERANCE_SPREAD = 1.0  # % vol either way of a stated tolerance; common practice


def limits_of(yeast: Yeast, settings: Settings) -> YeastLimits:
    """Tolerance (% vol) and temperature (°C) limits of a yeast, by the cellar's own library where that names it."""
    own = settings.library.get("yeasts")
    classes = yeast_classes(own) if own else YEAST_CLASSES
    known = classes.get(yeast.label) or classes.get(yeast.yeast_class) or classes["unknown"]
    stated = yeast.tolerance_abv
    low, high = (
        (known.tolerance_low, known.tolerance_high)
        if stated is None
        else (stated - OWN_TOLERANCE_SPREAD, stated + OWN_TOLERANCE_SPREAD)
    )
    return YeastLimits(
        name=yeast.label,
        tolerance_low=low,
        tolerance_high=high,
        low_c=yeast.low_c if yeast.low_c is not None else known.low_c,
        high_c=yeast.high_c if yeast.high_c is not None else known.high_c,
        tolerance_assumed=stated is None,
        temperature_assumed=yeast.low_c is None or yeast.high_c is None,
    )
