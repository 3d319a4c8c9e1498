"""What stands under the fields: faults, what was understood, and what the rules would say. Pure."""

from collections.abc import Sequence

from mustwatch.deeds.deed import Deed, Understood
from mustwatch.deeds.foresight import Foresight
from mustwatch.rules.finding import Finding, Severity
from mustwatch.screens.ink import Line, wrapped

STEPS = 3  # of what to do about a danger; the finding itself shows all


def told_lines(deed: Deed, meant: Understood, ahead: Foresight | None, width: int) -> list[Line]:
    """The lines, at most `width` cells wide. ahead: None while the rules are not yet asked."""
    if meant.faults:
        return [more for name, fault in meant.faults.items() for more in _fault_lines(deed, meant, name, fault, width)]
    lines = wrapped("; ".join(meant.words), width, "good", " = ", "   ")
    return lines + (_ahead_lines(ahead, width) if ahead else [])


def _fault_lines(deed: Deed, meant: Understood, name: str, fault: str, width: int) -> list[Line]:
    label = next(field.label or name for field in deed.fields if field.name == name)
    # A field that is still blank is no mistake yet.
    mark, role = (" ? ", "dim") if name in meant.wanting else (" ! ", "danger")
    return wrapped(f"{label}: {fault}", width, role, mark, "   ")


def _ahead_lines(ahead: Foresight, width: int) -> list[Line]:
    pressing = [*ahead.dangers, *ahead.others]
    lines = wrapped("If that is so, the rules say:", width, "dim", "   ") if pressing else []
    for finding in ahead.dangers:
        lines += _danger_lines(finding, width)
    for finding in ahead.others:
        said = f"{finding.severity.word} {finding.rule}: {finding.says}"
        lines += wrapped(said, width, finding.severity.word, f" {finding.severity.mark} ", "    ")
    # Nothing is praised where something pressing takes its place.
    if ahead.gone and not any(one.severity >= Severity.TODAY for one in pressing):
        said = f"once that is done, this ends: {', '.join(ahead.gone)}. Record only what is done."
        lines += wrapped(said, width, "good", "   ", "   ")
    for words in ahead.heading:
        lines += wrapped(words, width, "dim", "   ", "   ")
    if ahead.trouble:
        lines += wrapped(f"not known what the rules would say: {ahead.trouble}", width, "danger", " ! ", "   ")
    return lines


def _danger_lines(finding: Finding, width: int) -> list[Line]:
    lines = wrapped(f"DANGER {finding.rule}: {finding.says}", width, "danger", " !! ", "    ")
    steps: Sequence[str] = finding.do[:STEPS]
    for number, step in enumerate(steps, 1):
        lines += wrapped(f"{number}. {step}", width, "", "    do " if number == 1 else "       ", "          ")
    return lines
