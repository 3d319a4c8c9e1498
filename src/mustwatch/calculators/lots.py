"""Inputs and lines that sweetening, diluting and blending share."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade.blend import Lot

from . import shown
from .form import Field


def lot_fields(which: str = "", words: str = "the mead") -> tuple[Field, ...]:
    """Inputs that describe one lot: volume, gravity, alcohol, SO2.

    Range: none. Errors: none. Formula: none. Source: the bench itself.

    >>> [field.name for field in lot_fields("2")]
    ['volume2', 'gravity2', 'alcohol2', 'free2', 'total2']
    """
    label = f" {which}" if which else ""
    return (
        Field(f"volume{which}", "volume", f"Volume{label}", f"how much of {words}"),
        Field(f"gravity{which}", "gravity", f"Gravity{label}", f"of {words} now"),
        Field(f"alcohol{which}", "alcohol", f"Alcohol{label}", f"% vol of {words}", default="0"),
        Field(f"free{which}", "number", f"Free SO2{label}", "if measured", optional=True, unit="mg/L"),
        Field(
            f"total{which}", "number", f"Total SO2{label}", "sum of all doses, or measured", optional=True, unit="mg/L"
        ),
    )


def lot(values: Mapping[str, Any], which: str = "") -> Lot:
    """The lot of those inputs.

    Range: as Lot. Errors: ValueError outside. Formula: none. Source: the bench itself.

    >>> lot({"volume": 1.0, "gravity": 1.0, "alcohol": 12.0, "free": None, "total": None}).abv
    12.0
    """
    return Lot(*(values[f"{name}{which}"] for name in ("volume", "gravity", "alcohol", "free", "total")))


def values_of(after: Lot) -> dict[str, Any]:
    """A lot as values for JSON: litres, SG, % vol, mg/L.

    Range: any lot. Errors: none. Formula: none. Source: the bench itself.

    >>> values_of(Lot(1.0, 1.0, 12.0))["volume_l"]
    1.0
    """
    return {
        "volume_l": after.volume_l,
        "sg": after.sg,
        "abv": after.abv,
        "free_so2_mg_per_l": after.free_so2_mg_l,
        "total_so2_mg_per_l": after.total_so2_mg_l,
    }


def lines_of(after: Lot) -> list[tuple[str, str]]:
    """A lot as lines for the eye.

    Range: any lot. Errors: none. Formula: none. Source: the bench itself.

    >>> lines_of(Lot(1.0, 1.0, 12.0))[1]
    ('gravity', '1.000')
    """
    lines = [
        ("volume", shown.litres(after.volume_l)),
        ("gravity", shown.sg(after.sg)),
        ("alcohol", shown.alcohol(after.abv)),
    ]
    if after.free_so2_mg_l is not None:
        lines.append(("free SO2", f"about {shown.mg_per_l(after.free_so2_mg_l)}"))
    if after.total_so2_mg_l is not None:
        lines.append(("total SO2", f"about {shown.mg_per_l(after.total_so2_mg_l)}"))
    return lines
