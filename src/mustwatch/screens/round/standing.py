"""Where a batch stands, laid out for the detail pane: with labels where there is room, else only what presses."""

from datetime import datetime

from mustwatch.cellar.batch import Batch
from mustwatch.judgement.state import Verdict
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import visible
from mustwatch.said.standing import Span, standing
from mustwatch.screens.ink import ROOMY, Line, labelled, padded, wrapped

# What an eye asks for first; the rest follows in the order of `standing`.
FIRST = ("closure", "gravity", "state", "end")
# What a narrow pane shows besides, and where the label leads: it has no lines to give away.
NARROW = (*FIRST, "stage", "warmth", "alcohol", "vessel")
LED = ("closure", "gravity", "alcohol")


def standing_lines(
    batch: Batch,
    verdict: Verdict,
    settings: Settings,
    now: datetime,
    width: int,
    likely: Span | None = None,
    live: str = "",
) -> list[Line]:
    """The lines of the section, at most `width` cells wide.

    likely: where it will most likely end, once forecast; live: what probes show at this moment, in words.
    """
    lines: list[Line] = []
    told = dict(standing(batch, verdict, now, settings, likely))
    told["warmth"] = _with_live(told.get("warmth", ""), visible(live))
    rest = [label for label in told if label not in FIRST]
    for label in [label for label in ((*FIRST, *rest) if width >= ROOMY else NARROW) if told.get(label)]:
        role = "danger" if label == "closure" and batch.active and not _is_safe_closure(batch, verdict) else ""
        if width >= ROOMY:
            lines += labelled(label, told[label], width, role)
        else:
            lines += wrapped(f"{label} {told[label]}" if label in LED else told[label], width, role, rest="  ")
    return lines


def name_lines(batch: Batch, width: int) -> list[Line]:
    """The name of a batch and its tag, in one line."""
    name = visible(batch.name) or batch.tag
    tag = "" if name == batch.tag else batch.tag
    return [((padded(name, max(8, width - len(tag) - 1)), "strong"), (f" {tag}", ""))]


def _with_live(recorded: str, live: str) -> str:
    """What is live stands for what was recorded; a silent probe stands beside it."""
    if not live or not recorded:
        return recorded
    return live if live.endswith(" now") and "silent" not in live else f"{recorded}; {live}"


def _is_safe_closure(batch: Batch, verdict: Verdict) -> bool:
    """Whether the closure needs no alarm here; what is not known is never safe."""
    return batch.closing.kind is not None and (batch.closing.vented or verdict.safe)
