"""A batch or its bottles stand in another place, warmer or colder, darker or lighter."""

from mustwatch.deeds.deed import NOTE, WHEN, Deed, Field
from mustwatch.deeds.readers import degrees, one_of

LIGHT = ("dark", "lit")

DEED = Deed(
    "move",
    "moved",
    "to another place",
    "put it in another place: move TAG cellar --light dark --air 14C",
    (
        Field("place", "where it stands now", key="place", line="PLACE +",
              asked="moved where? Name the place, such as cellar"),
        Field("light", "whether light falls on the glass", one_of(*LIGHT), "light", LIGHT),
        Field("air", "how warm it is there, such as 14C", degrees, "air_c", line="--air TEMPERATURE"),
        WHEN,
        NOTE,
    ),
    known=lambda ground, prefill: {"place": prefill},
)  # fmt: skip
