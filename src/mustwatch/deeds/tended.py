"""What is done to a batch by hand and needs no amount: swirled, aerated, its cap pushed under, its gear cleaned."""

from mustwatch.deeds.deed import NOTE, WHEN, Deed, Field


def _tended(name: str, kind: str, title: str) -> Deed:
    return Deed(name, kind, title, title, (Field("how", "in your own words", key="how", line="--how TEXT"), WHEN, NOTE))


SWIRL = _tended("swirl", "swirled", "swirled, or stirred")
AERATE = _tended("aerate", "aerated", "air stirred in")
PUSH = _tended("push", "cap_pushed", "the cap pushed under")
CLEAN = _tended("clean", "cleaned", "cleaned and sanitised")
