"""New or worse at once, the rest once a day, nobody woken by less than danger."""

from dataclasses import replace
from datetime import datetime, time, timedelta, timezone

import pytest

from mustwatch.feeds.notify.post import Channel, Habits, Message, failed, habits_of, message_for
from mustwatch.rules.finding import Finding, Severity

ZONE = timezone(timedelta(hours=2))
NIGHTS = Habits(quiet=(time(22), time(7)))


def at(hour: int, day: int = 1) -> datetime:
    return datetime(2026, 5, day, hour, 30, tzinfo=ZONE)


def finding(rule: str = "lock-dry", severity: Severity = Severity.TODAY, **more) -> Finding:
    return Finding(rule, "fir", severity, f"{rule} says so.", "why", ("do this.",), "clears", **more)


def sent(channel: Channel, found: list[Finding], now: datetime, habits: Habits = NIGHTS) -> tuple[str, Channel]:
    """(title of the message or nothing, the channel after it went out)."""
    asked = message_for(channel, found, habits, now)
    return (asked.title, asked.after) if isinstance(asked, Message) else ("", asked)


def test_a_new_finding_goes_out_once():
    """The next hour it is old."""
    title, channel = sent(Channel(digest_on="2026-05-01"), [finding()], at(10))
    assert title == "mustwatch: 1 today"
    assert sent(channel, [finding()], at(11))[0] == ""


def test_what_grows_worse_goes_out_again_and_what_grows_milder_does_not():
    """And worse again after it was milder is news."""
    _, channel = sent(Channel(digest_on="2026-05-01"), [finding(severity=Severity.WATCH)], at(10))
    title, channel = sent(channel, [finding(severity=Severity.DANGER)], at(11))
    assert "1 danger" in title
    title, channel = sent(channel, [finding(severity=Severity.WATCH)], at(12))
    assert title == ""
    assert "1 today" in sent(channel, [finding()], at(13))[0]


def test_what_was_cleared_and_comes_back_is_new():
    """It is another cause."""
    _, channel = sent(Channel(digest_on="2026-05-01"), [finding()], at(10))
    _, channel = sent(channel, [], at(11))
    assert sent(channel, [finding()], at(12))[0]


def test_one_digest_a_day_says_the_rest():
    """Not before its time, not twice, and not where there is nothing."""
    channel = Channel({"fir|lock-dry": 2}, digest_on="2026-05-01")
    assert sent(channel, [finding()], at(7, day=2))[0] == ""
    title, after = sent(channel, [finding()], at(9, day=2))
    assert title == "mustwatch: 1 today (nothing new)"
    assert sent(after, [finding()], at(10, day=2))[0] == ""
    assert sent(channel, [], at(9, day=2))[0] == ""


def test_quiet_hours_hold_back_all_but_danger():
    """What was held back goes out in the morning."""
    channel = Channel(digest_on="2026-05-01")
    found = [finding(), finding("sealed-while-alive", Severity.DANGER)]
    title, after = sent(channel, found, at(23))
    assert title == "mustwatch: 1 danger"
    title, _ = sent(after, found, at(8, day=2))
    assert "1 danger, 1 today" in title


def test_what_is_mild_or_asleep_is_not_sent():
    """As the cellar has set it, and as it was hushed."""
    asleep = finding("stalled", hushed_until=at(10, day=9))
    assert sent(Channel(digest_on="2026-05-01"), [finding(severity=Severity.NOTE), asleep], at(10))[0] == ""


def test_a_failing_channel_is_reported_once_a_day_and_keeps_what_it_lacks():
    """The finding stays new for it."""
    channel, say = failed(Channel(), at(10))
    assert say and channel.sent == {}
    channel, say = failed(channel, at(11))
    assert not say and channel.failing == at(10).isoformat()
    assert failed(channel, at(12, day=2))[1]
    title, after = sent(replace(channel, digest_on="2026-05-02"), [finding()], at(13, day=2))
    assert title and after.failing == ""


def test_a_message_says_what_to_do_and_cannot_act():
    """The words of a finding are made visible."""
    asked = message_for(Channel(), [finding()._replace(says="odd \x1b[2J.")], Habits(), at(10))
    assert isinstance(asked, Message)
    assert "TODAY fir: odd <1b>[2J." in asked.body and "1. do this." in asked.body


@pytest.mark.parametrize(
    ("own", "why"),
    [({"quiet": "22-7"}, "22:00-07:00"), ({"at_least": "loud"}, "severity"), ({"url": "x"}, "no secret"),
     ({"digest": "noon"}, "08:00")],
)  # fmt: skip
def test_faulty_habits_are_named(own, why):
    """With what would be right."""
    with pytest.raises(ValueError, match=why):
        habits_of(own)
