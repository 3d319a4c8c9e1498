"""A note, kept word for word; of a batch or of the cellar as a whole."""

from mustwatch.deeds.deed import WHEN, Deed, Field
from mustwatch.deeds.readers import verbatim

DEED = Deed(
    "note",
    "noted",
    "a note",
    "a note, kept word for word; with - in place of TAG it is the cellar's",
    (
        Field("text", "kept word for word", verbatim, "note", line="TEXT +",
              asked="an empty note; write what is to be kept"),
        WHEN,
    ),
    known=lambda ground, prefill: {"text": prefill},
    of="either",
)  # fmt: skip
