"""Must heated, or bottles pasteurised."""

from collections.abc import Mapping
from typing import Any

from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Keys
from mustwatch.deeds.readers import degrees, number, one_of
from mustwatch.trade.pasteurise import FERMENTED_UNITS, HIGHEST_C, LOWEST_C, pasteurisation_units

WHAT = ("must", "bottles")
LONGEST_MINUTES = 1440.0
BOTTLES = (
    "A closed bottle bursts when it is heated, more so with any gas in it: heat only what is still and at rest."
    " Keep a lid on the bath, stay away until it is cool, and cover eyes, face and hands."
    " Never take a hot bottle into the cold."
)
MUST = (
    "Hot must scalds, and it cracks glass: heat it in a pot, and let it cool before it goes into glass."
    " Never seal it hot. Pitch only when it is within the yeast's warmth: heat kills yeast."
)
_minutes = number("minutes", "minute", "min", "m", like=10, low=0, high=LONGEST_MINUTES)


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    values = answers.values
    if values["what"] == "bottles":
        answers.said.append(_worth(values["to"], values.get("minutes")))
    return [("heated", answers.keys())]


def _worth(celsius: float, minutes: float | None) -> str:
    """What heating bottles is worth, in words."""
    if minutes is None or not LOWEST_C <= celsius <= HIGHEST_C:
        return "without its time, or too cool or too hot, it counts for nothing"
    units = pasteurisation_units(celsius, minutes)
    enough = "enough" if units >= FERMENTED_UNITS else "not enough"
    return f"{units:.0f} pasteurisation units, {enough} to stop yeast ({FERMENTED_UNITS:.0f} are asked for)"


def _cautions(values: Mapping[str, Any]) -> tuple[str, ...]:
    said = {"bottles": (BOTTLES,), "must": (MUST,)}
    return said.get(values.get("what", ""), (BOTTLES, MUST))


DEED = Deed(
    "heat",
    "heated",
    "must or bottles heated",
    "heat the must or pasteurise bottles: heat TAG bottles --to 65C --minutes 10",
    (
        Field("what", "must or bottles", one_of(*WHAT), "what", WHAT, line="WHAT",
              asked="what was heated? must or bottles"),
        Field("to", "in the middle of a bottle, or of the must: 65C", degrees, "c", label="to", line="--to TEMPERATURE",
              asked="how warm did it get, in the middle of a bottle? Write it like 65C"),
        Field("minutes", "held so long, such as 10", _minutes, "minutes", line="--minutes N"),
        WHEN,
        NOTE,
    ),
    events=_events,
    cautions=_cautions,
)  # fmt: skip
