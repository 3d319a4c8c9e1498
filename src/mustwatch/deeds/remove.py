"""What steeped in a batch is taken out again: fruit, oak, spice."""

from mustwatch.deeds.deed import NOTE, WHEN, Deed, Field

DEED = Deed(
    "remove",
    "removed",
    "something comes out",
    "take out what steeped: remove TAG fruit, remove TAG 'oak chips'",
    (
        Field("what", "as it was named, or fruit, oak, spice", key="what", line="WHAT +",
              asked="took out what? Name it, such as fruit"),
        WHEN,
        NOTE,
    ),
    known=lambda ground, prefill: {"what": prefill},
)  # fmt: skip
