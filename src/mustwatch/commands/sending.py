"""`check --send`: the findings out of the house, and a word on what became of each channel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from mustwatch.commands.context import Context, Refused

if TYPE_CHECKING:
    from mustwatch.feeds.notify.channels import Sent
    from mustwatch.rules.finding import Finding
    from mustwatch.said.troubles import Trouble


def sent(context: Context, found: Sequence[Finding], troubles: Sequence[Trouble]) -> list[Sent]:
    """Sends what is due, what is wrong with the record too; what became of each channel. Raises Refused."""
    from mustwatch.feeds.locked import alone
    from mustwatch.feeds.notify.channels import addresses, send_all
    from mustwatch.feeds.notify.post import habits_of
    from mustwatch.feeds.probes.config import plan_of
    from mustwatch.ledger.visible import visible

    if context.read_only:
        raise Refused(f"not sent: {context.read_only}")
    try:
        own = plan_of(context.settings.feeds).notify
        folder = context.ledger.identity.folder / "feeds"
        habits = habits_of(own)
        with alone(folder, "check --send"):
            told = send_all(folder, addresses(own), [*found, *record_findings(troubles)], habits, context.clock_now)
    except ValueError as why:
        raise Refused(visible(str(why))) from None
    for each in told:
        if each.what == "failed" and each.say:
            context.err(
                visible(f"channel {each.name} does not take anything since {each.since[:16]}; tried again next time")
            )
        elif each.what == "sent" and each.say:
            context.err(visible(f"channel {each.name} works again"))
    return told


def record_findings(troubles: Sequence[Trouble]) -> list[Finding]:
    """What may hide or falsify a fact, as findings for today: a record with a hole is no record without findings."""
    from mustwatch.rules.finding import Finding, Severity

    why = "What is not on record cannot be warned of."
    return [
        Finding(f"record-{one.what}", one.batch or "record", Severity.TODAY, one.says, why, (one.way_back,),
                "the record is whole again", one.ids)
        for one in troubles
        if one.grave
    ]  # fmt: skip
