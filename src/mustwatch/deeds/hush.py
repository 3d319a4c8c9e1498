"""A finding sleeps until a date; danger for a day at most, and it stays in sight."""

from mustwatch.deeds.deed import NOTE, Answers, Deed, Field, Ground, Keys
from mustwatch.deeds.foresight import rules_in
from mustwatch.deeds.readers import small, to_come
from mustwatch.ledger.visible import visible
from mustwatch.rules.engine import LONGEST_DANGER_HUSH
from mustwatch.rules.finding import Finding, Severity
from mustwatch.said.dates import moment


def _found(text: str, ground: Ground) -> Finding:
    """The finding of a rule. Raises ValueError where it has found nothing, or stands under another."""
    rule, tag = small(text, ground), ground.tag
    found = [one for one in ground.findings if one.batch == tag]
    for one in found:
        if one.rule == rule:
            return one
    if above := next((one.rule for one in found if rule in rules_in(one.folded)), None):
        raise ValueError(f"{rule} stands under {above} in {tag}; hush that one")
    names = ", ".join(one.rule for one in found) or "nothing"
    raise ValueError(f"{visible(rule, limit=40)!r} has found nothing in {tag}; found there: {names}")


def _events(answers: Answers) -> list[tuple[str, Keys]]:
    finding, until, now = answers.values["rule"], answers.values["until"], answers.ground.now
    if until <= now:
        answers.faults["until"] = f"{moment(until, now)} is past; name a time to come"
    elif finding.severity is Severity.DANGER and until > now + LONGEST_DANGER_HUSH:
        answers.faults["until"] = "a danger can be hushed for 24 hours at most, and stays in sight"
    return [("hushed", answers.keys() | {"rule": finding.rule})]


DEED = Deed(
    "hush",
    "hushed",
    "a finding sleeps",
    "put a finding to sleep: hush TAG RULE --until 2026-06-01",
    (
        Field("rule", "as `mustwatch check` names it", _found, line="RULE",
              asked="which finding? Write its rule's name"),
        Field("until", "2026-06-01, tomorrow, fri, 2 weeks", to_come, "until", line="--until DATE",
              asked="until when? Write it like 2026-06-01 or 3 days"),
        Field("why", "the reason, kept with it", key="why", line="--why TEXT"),
        NOTE,
    ),
    events=_events,
    known=lambda ground, prefill: {"rule": prefill},
)  # fmt: skip
