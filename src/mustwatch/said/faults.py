"""Faults of the event format in words for people."""

import re

# Keys of the event format whose names say little to people.
_KEYS = {
    "volume_l": "volume in litres",
    "lees_l": "lees in litres",
    "headspace_l": "headspace in litres",
    "g": "amount in grams",
    "l": "amount in litres",
    "must_c": "temperature of the must in C",
    "score_of_10": "score",
    "yeast.tolerance_abv": "tolerance in % vol",
    "nitrogen_mg_per_g": "nitrogen in mg a gram",
    "target.sg": "planned start gravity",
    "target.final_sg": "planned end gravity",
    "vessel.capacity_l": "size of the vessel in litres",
}


def plainly(fault: str) -> str:
    """A fault of the format in words for people: `volume_l: input should be ...` names a key of the file."""
    plain = fault.replace("input should be a finite number", "must be a plain number")
    plain = plain.replace("input should be a valid number", "must be a number")
    plain = re.sub(r"input should be (greater than or equal to|less than or equal to)", _bound, plain)
    plain = plain.replace(", unable to parse string as a number", "")
    plain = plain.replace("input should be greater than", "must be more than")
    plain = plain.replace("input should be less than", "must be less than")
    plain = plain.replace("input should be ", "must be ").replace("input should have ", "must have ")
    plain = plain.replace("must have timezone info", "needs its offset from UTC, such as 2026-05-01T18:00:00+02:00")
    key, colon, rest = plain.partition(": ")
    if not colon:
        return plain
    name = _KEYS.get(key, key.split(".")[-1].replace("_", " "))
    return f"{name}{' ' if rest.startswith('must') else colon}{rest}"


def _bound(found: re.Match[str]) -> str:
    return "must be at least" if found[1].startswith("greater") else "must be at most"
