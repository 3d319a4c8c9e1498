"""A tasting note."""

from mustwatch.deeds.deed import NOTE, WHEN, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.readers import number, one_of

PARTS = ("look", "nose", "palate", "balance")
_yes_or_no = one_of("yes", "no")
_number = number("", like=8)


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    if not answers.values.keys() - {"when"}:
        answers.faults["look"] = "an empty tasting note; give look, nose, palate, balance, score or note"
    return [("tasted", answers.keys())]


def _score(text: str, ground: Ground) -> float:
    """A score out of ten; the ten may be written."""
    return float(_number(text.strip().removesuffix("/10"), ground))


def _again(text: str, ground: Ground) -> bool:
    return bool(_yes_or_no(text, ground) == "yes")


DEED = Deed(
    "taste",
    "tasted",
    "how it tastes",
    "a tasting note",
    (
        *(Field(part, "in your own words", key=part, line=f"--{part} WORDS") for part in PARTS),
        Field("score", "out of ten: 8, 7.5 or 8/10", _score, "score_of_10", line="--score 0-10"),
        Field("again", "would you make it again", _again, "again", ("yes", "no")),
        WHEN,
        NOTE,
    ),
    events=_events,
)
