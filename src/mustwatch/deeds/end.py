"""A batch is over."""

from mustwatch.deeds.deed import NOTE, WHEN, Deed, Field
from mustwatch.deeds.readers import one_of

OUTCOMES = ("drunk", "given", "dumped", "vinegar")

DEED = Deed(
    "end",
    "ended",
    "a batch is over",
    "end a batch",
    (
        Field("outcome", ", ".join(OUTCOMES), one_of(*OUTCOMES), "outcome", OUTCOMES, line="OUTCOME",
              asked=f"what became of it? One of: {', '.join(OUTCOMES)}"),
        WHEN,
        NOTE,
    ),
)  # fmt: skip
