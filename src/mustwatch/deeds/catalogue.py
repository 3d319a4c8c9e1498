"""The deeds there are, by name, in the order of a batch's life. Each is imported only when it is asked for."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mustwatch.deeds.deed import Deed

# name -> what its command says in one line; a deed without a line has no command of its own, `log` does it.
DEEDS = {
    "note": "a note, kept word for word",
    "begin": "mix a batch",
    "pitch": "add the yeast",
    "close": "put a closure on",
    "add": "add honey, nutrient, oak, sulfite and the like",
    "swirl": "",
    "aerate": "",
    "push": "",
    "clean": "",
    "rack": "rack into another vessel",
    "remove": "take out fruit, oak or spice",
    "move": "put it in another place",
    "bottle": "bottle a batch",
    "pour-back": "pour bottles back into a vessel",
    "heat": "heat the must, or pasteurise bottles",
    "take": "take bottles from the shelf",
    "taste": "a tasting note",
    "end": "end a batch",
    "hush": "put a finding to sleep until a date",
    "instrument": "a hydrometer, thermometer or meter, and its error",
}


def deed_named(name: str) -> Deed:
    """The deed of a name of `DEEDS`."""
    if not DEEDS[name]:
        found: Deed = getattr(import_module("mustwatch.deeds.tended"), name.upper())
        return found
    deed: Deed = import_module(f"mustwatch.deeds.{name.replace('-', '_')}").DEED
    return deed
