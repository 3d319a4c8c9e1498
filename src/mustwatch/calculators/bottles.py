"""How many bottles, of which sizes."""

from collections.abc import Mapping
from typing import Any

from mustwatch.trade import bottles as trade

from . import shown
from .form import Answer, Calculation, Field


def work(values: Mapping[str, Any]) -> Answer:
    counted = trade.bottle_count(values["volume"], values["sizes"], values["loss"] / 100)
    largest = max(size for size, _ in values["sizes"])
    ready = trade.bottles_needed(values["volume"], largest)
    result = {
        "bottles": counted.total,
        "filled": [{"size_ml": lot.size_ml, "count": lot.count} for lot in counted.filled],
        "left_ml": counted.left_ml,
        "lost_l": counted.lost_l,
        "clean_ready": ready,
    }
    lines = [(shown.litres(lot.size_ml / 1000), f"{lot.count} full") for lot in counted.filled]
    lines += [
        ("left over", shown.litres(counted.left_ml / 1000)),
        ("left with the lees", shown.litres(counted.lost_l)),
        ("have clean", f"{ready} of {shown.litres(largest / 1000)}, if nothing were lost"),
    ]
    cautions = (
        "Bottle only what is finished and dry, or stabilised: two readings a week or more apart that agree.",
        "Still-wine bottles and jugs bear no pressure; sparkling mead wants bottles rated for it.",
        "Fill to leave room under the closure: liquid grows with warmth.",
    )
    return Answer(result, tuple(lines), cautions)


CALCULATION = Calculation(
    name="bottles",
    fields=(
        Field("volume", "volume", "Volume", "how much there is"),
        Field("sizes", "sizes", "Bottles", "sizes in ml, with how many there are", default="750"),
        Field("loss", "number", "Loss", "left with the lees and in the hose", default="5", unit="%"),
    ),
    work=work,
    method="whole bottles of the largest size, then of the next from what is left",
    source="arithmetic; 3 to 10 % loss is common practice",
    range="to 2000 L, bottles of 20 to 20 000 ml, loss to 50 %",
    example='volume=19L sizes="750x20, 375"',
)
