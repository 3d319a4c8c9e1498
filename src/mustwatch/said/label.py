"""The text of a label, line by line, and what to mind about it."""

from collections.abc import Sequence

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.alcohol import alcohol_now
from mustwatch.said.dates import full_day
from mustwatch.said.figures import listed

LAW = "Local law says what a label must carry; bottles that are sold need a licence."
YEAST_SO2 = "Yeast makes some SO2 by itself, now and then above 10 mg/L: only a measurement says that there is less."
UNKNOWN_SO2 = "How much sulfite went in is not known, so the label names it."
MADE_OF = ("honey", "fruit", "juice", "spice", "oak", "sugar")  # what a drinker asks for; no sand, no sulfur


def label_lines(batch: Batch, contains: Sequence[str], infants: str = "") -> list[str]:
    """The lines of a label: name, style, what it is made of, strength, day of bottling, what it contains.

    What was not recorded has no line, but the strength and the day, for which a gap is left. Not yet made visible().
    """
    made = alcohol_now(batch)
    lines = [batch.name or batch.tag, batch.style or "", _made_of(batch)]
    lines.append(f"about {round(made.best * 2) / 2:g} % vol" if made else "strength: ____ % vol")
    lines.append(f"bottled {full_day(batch.bottlings[-1].at)}" if batch.bottlings else "bottled: ____")
    lines += [f"contains {listed(contains)}" if contains else "", infants]
    return [line for line in lines if line]


def _made_of(batch: Batch) -> str:
    parts = [part.what for part in batch.mixed.ingredients if part.category in MADE_OF] if batch.mixed else []
    parts += [event.what for event in batch.additions if event.category in MADE_OF]
    return f"made with {listed(list(dict.fromkeys(parts)))}" if parts else ""


def label_cautions(contains: Sequence[str], *, unknown_sulfite: bool, hold: str = "") -> list[str]:
    """What to mind before a bottle is given away, the gravest first."""
    said = [f"These bottles are on hold, give none away: {hold}"] if hold else []
    said += [UNKNOWN_SO2] if unknown_sulfite else []
    said += [] if "sulfites" in contains else [YEAST_SO2]
    return [*said, LAW]
