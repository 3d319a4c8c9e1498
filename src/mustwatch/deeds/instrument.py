"""A glass or meter of the cellar, what it is made for and how far it is off."""

from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.readers import degrees, number, one_of

# What is farther off is a slip of the unit, or no instrument to go by.
FARTHEST = {
    "hydrometer": (0.03, "as a gravity, such as -0.002"),
    "refractometer": (5.0, "Brix"),
    "thermometer": (20.0, "degrees C"),
    "pH meter": (2.0, "pH"),
}
KINDS = tuple(FARTHEST)
FARTHEST_OFF = FARTHEST["hydrometer"][0]  # a glass that is farther off in water was read on another scale


def _name(text: str, _: Ground) -> str:
    if len(text.split()) != 1:
        raise ValueError("the name is one word, so that log can take it as by:NAME")
    return text.strip()


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    values, keys = answers.values, answers.keys()
    farthest, unit = FARTHEST[values["what"]]
    water, offset = values.get("water"), values.get("offset")
    if not 0 < values.get("division", 1.0) <= 10:
        answers.faults["division"] = "the step between two marks is above 0, such as 0.002"
    if water is not None and offset is not None:
        answers.faults["offset"] = "water and offset say the same thing; give one of them"
    elif water is not None and (values["what"] != "hydrometer" or round(abs(water - 1), 5) > FARTHEST_OFF):
        answers.faults["water"] = "it is what a hydrometer reads in plain water, near 1.000, such as 1.002"
    elif offset is not None and abs(offset) > farthest:
        answers.faults["offset"] = f"expected -{farthest:g} to {farthest:g} {unit}; is it the right unit?"
    elif water is not None:
        keys["offset"] = round(1 - water, 5)
    return [("instrument", keys)]


DEED = Deed(
    "instrument",
    "instrument",
    "a glass or meter, and its error",
    "record an instrument: instrument longglass hydrometer --made-for 20C --water 1.002",
    (
        Field("name", "what you call it; log takes by:NAME", _name, "name", line="NAME",
              asked="the name is one word, so that log can take it as by:NAME"),
        Field("what", ", ".join(KINDS), one_of(*KINDS), "what", KINDS, "kind", line="KIND",
              asked=f"what is it? One of: {', '.join(KINDS)}"),
        Field("made_for", "the temperature printed in it, as 20C", degrees, "calibration_c", label="made for",
              line="--made-for TEMPERATURE"),
        Field("water", "what it read in water at that", number("", like=1.002), line="--water READING"),
        Field("offset", "what is added to its readings", number("", like=-0.002), "offset", line="--offset FIGURE"),
        Field("division", "the step between marks, as 0.002", number("", like=0.002), "division",
              line="--division FIGURE"),
        WHEN,
        NOTE,
    ),
    events=_events,
    of="cellar",
)  # fmt: skip
