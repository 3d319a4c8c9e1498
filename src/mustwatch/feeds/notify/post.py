"""What goes to each channel, and what it knows already. Pure: no clock, no disk, no secret."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, time, timedelta
from typing import Any

from mustwatch.feeds.probes.config import only_known
from mustwatch.ledger.visible import visible
from mustwatch.rules.finding import Finding, Severity

SAY_AGAIN = timedelta(hours=23)  # a channel that keeps failing is reported about once a day
MOST_TOLD = 20


@dataclass(frozen=True, slots=True)
class Habits:
    """When and what is sent. at_least: the mildest severity; quiet: from and to, local; digest: when, local."""

    at_least: Severity = Severity.WATCH
    quiet: tuple[time, time] | None = None
    digest: time = time(8)

    def is_quiet(self, now: datetime) -> bool:
        """Whether nobody is to be woken by less than danger."""
        if self.quiet is None:
            return False
        since, until = self.quiet
        clock = now.time()
        return since <= clock < until if since <= until else clock >= since or clock < until


@dataclass(frozen=True, slots=True)
class Channel:
    """What a channel was sent. sent: finding -> severity as last told; digest_on: the day of its last digest;
    failing: since when it fails; reported: when that was last said."""

    sent: Mapping[str, int] = field(default_factory=dict)
    digest_on: str = ""
    failing: str = ""
    reported: str = ""


@dataclass(frozen=True, slots=True)
class Message:
    """One message, and the channel as it stands once it is through."""

    title: str
    body: str
    after: Channel


def key_of(finding: Finding) -> str:
    """What a finding is known by: its batch and its rule."""
    return f"{finding.batch}|{finding.rule}"


def message_for(channel: Channel, found: Iterable[Finding], habits: Habits, now: datetime) -> Message | Channel:
    """The message a channel should get now, `now` in local time; where there is none, the channel as it stands."""
    there = {key_of(one): one for one in found if not one.asleep and one.severity >= habits.at_least}
    known = {key: min(level, int(there[key].severity)) for key, level in channel.sent.items() if key in there}
    channel = replace(channel, sent=known)
    fresh = [one for key, one in there.items() if int(one.severity) > known.get(key, -1)]
    if habits.is_quiet(now):
        fresh, digest = [one for one in fresh if one.severity is Severity.DANGER], False
    else:
        digest = now.time() >= habits.digest and channel.digest_on < now.date().isoformat()
    if digest:
        channel = replace(channel, digest_on=now.date().isoformat())
    told = list(there.values()) if digest else fresh
    if not told:
        return channel
    after = replace(
        channel, sent={**known, **{key_of(one): int(one.severity) for one in told}}, failing="", reported=""
    )
    return Message(_title(told, digest and not fresh), _body(told, {key_of(one) for one in fresh}), after)


def failed(channel: Channel, now: datetime) -> tuple[Channel, bool]:
    """(the channel after a failure, whether that is to be said now)."""
    said = not channel.reported or now - datetime.fromisoformat(channel.reported) >= SAY_AGAIN
    stamp = now.isoformat()
    return replace(channel, failing=channel.failing or stamp, reported=stamp if said else channel.reported), said


def _title(told: Sequence[Finding], quiet: bool) -> str:
    counts = [(level, sum(one.severity is level for one in told)) for level in sorted(Severity, reverse=True)]
    words = ", ".join(f"{count} {level.word}" for level, count in counts if count)
    return f"mustwatch: {words}{' (nothing new)' if quiet else ''}"


def _body(told: Sequence[Finding], fresh: set[str]) -> str:
    lines = []
    for one in sorted(told, key=lambda one: -one.severity)[:MOST_TOLD]:
        new = " (new)" if key_of(one) in fresh and len(fresh) < len(told) else ""
        lines += [f"{one.severity.word.upper()} {one.batch}: {visible(one.says)}{new}"]
        lines += [f"  {number}. {visible(step)}" for number, step in enumerate(one.do[:3], 1)]
    if len(told) > MOST_TOLD:
        lines.append(f"... and {len(told) - MOST_TOLD} more; see `mustwatch check`.")
    return "\n".join(lines)


def habits_of(own: Mapping[str, Any]) -> Habits:
    """The habits set under [feeds.notify]. Raises ValueError naming the key."""
    at = "cellar.toml: feeds.notify"
    only_known(own, {"urls_file", "at_least", "quiet", "digest"}, "feeds.notify")
    try:
        least = Severity.from_word(str(own.get("at_least", "watch")))
    except ValueError as why:
        raise ValueError(f"{at}.at_least: {why}") from None
    quiet = None
    if "quiet" in own:
        since, dash, until = str(own["quiet"]).partition("-")
        quiet = (_clock(since, f"{at}.quiet"), _clock(until if dash else "", f"{at}.quiet"))
    return Habits(least, quiet, _clock(str(own.get("digest", "08:00")), f"{at}.digest"))


def _clock(text: str, at: str) -> time:
    try:
        return datetime.strptime(text.strip(), "%H:%M").time()
    except ValueError:
        raise ValueError(f'{at} must be a time such as "08:00"; quiet hours two, such as "22:00-07:00"') from None
