"""What is done to a batch by hand and needs no amount: swirled, aerated, its cap pushed under, its gear cleaned."""

from collections.abc import Mapping
from typing import Any

from mustwatch.deeds.add import BLEACHED, names_bleach
from mustwatch.deeds.deed import NOTE, WHEN, Deed, Field


def _tended(name: str, kind: str, title: str) -> Deed:
    fields = (Field("how", "in your own words", key="how", line="--how TEXT"), WHEN, NOTE)
    return Deed(name, kind, title, title, fields, cautions=_cautions)


def _cautions(values: Mapping[str, Any]) -> tuple[str, ...]:
    """What can hurt in what it was done with."""
    said = f"{values.get('how') or ''} {values.get('note') or ''}"
    return (BLEACHED,) if names_bleach(said) else ()


SWIRL = _tended("swirl", "swirled", "swirled, or stirred")
AERATE = _tended("aerate", "aerated", "air stirred in")
PUSH = _tended("push", "cap_pushed", "the cap pushed under")
CLEAN = _tended("clean", "cleaned", "cleaned and sanitised")
