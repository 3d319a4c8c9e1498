"""Words of a person's own: whether they name a thing, and do not deny it."""

import re

DENIAL_LENGTH = 40  # characters
_DENIED = re.compile(
    r"\b(no|not|none|never|without|free of|hardly)\s+"
    r"(?:(?:any|a|the|of|one|bottles?|corks?|caps?|lids?|has|have|is|are|was|were|been)\s+)*$",
    re.IGNORECASE,
)


def says(text: str, words: re.Pattern[str]) -> bool:
    """Whether a text names one of the words and does not deny it."""
    # Only the words just before it can deny it; a long note must not cost its length again for each word found.
    return any(
        _DENIED.search(text[max(0, found.start() - DENIAL_LENGTH) : found.start()]) is None
        for found in words.finditer(text)
    )
