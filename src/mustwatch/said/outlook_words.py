"""The outlook in words, the most useful first, each short enough for a line of eighty columns."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.visible import counted
from mustwatch.said.dates import day, days_between, on_day, span
from mustwatch.said.figures import listed

if TYPE_CHECKING:
    from mustwatch.judgement.forecast.outlook import Band, Outlook
    from mustwatch.judgement.forecast.sealed import Sealing
    from mustwatch.judgement.proof import Needed

HIDDEN_POINTS = 1.95  # sugar that an end may hide without a word; shown as two points
GAS_WORTH_A_WORD = 0.3  # volumes


def words_of(outlook: Outlook, batch: Batch) -> tuple[str, ...]:
    """The outlook in words: the state, where it heads, what is hidden, the gas, what is not known."""
    verdict = outlook.verdict
    if verdict.state is None:
        return ("nothing pitched yet",)
    words = [*_state_words(outlook, batch), *_course_words(outlook), *_gas_words(outlook)]
    if outlook.start_unread:
        since = "not read since the last change" if outlook.start_unread != "never" else "start gravity not read"
        words.append(f"{since}: the forecast is wide")
    if outlook.final_sg is None:
        words.append("no forecast: no gravity has been read")
    if verdict.missing:
        words.append("not recorded: " + ", ".join(verdict.missing))
    return tuple(words)


def _state_words(outlook: Outlook, batch: Batch) -> list[str]:
    verdict, now = outlook.verdict, outlook.at
    if verdict.state == "undecided":
        return _undecided_words(outlook)
    if verdict.state == "stalled":
        sure = "stands still" if verdict.confirmed else "seems to stand still"
        again = "" if verdict.confirmed else "; one more reading will confirm it"
        return [f"{sure} at {_latest(batch)}{_above(outlook)}{again}"]
    if verdict.state == "sluggish":
        return ["standing a little above its end" if verdict.slow_finish else "slow, but moving"]
    if verdict.state in ("stable", "finished"):
        return _rest_words(outlook, batch)
    if verdict.state == "lag":
        hours = batch.hours_since_pitch(now) or 0.0
        return [f"not under way yet, {max(0.0, hours):.0f} hours after pitching; 6 to 48 hours is common"]
    return []


def _undecided_words(outlook: Outlook) -> list[str]:
    verdict, now = outlook.verdict, outlook.at
    if verdict.decide_on is None or verdict.decide_on <= now + timedelta(hours=1):
        return ["read now: the readings so far cannot tell how it stands"]
    when, rest = on_day(verdict.decide_on, now), verdict.rest.readings
    if rest and verdict.decide_on == rest[0].at + timedelta(days=verdict.needed.days):
        return [f"read again {when}: then it can be told whether it rests", needed_words(verdict.needed)]
    return [f"read again {when}: then it can be told apart from slow"]


def needed_words(needed: Needed) -> str:
    """How long readings must agree, and why: `14 days are needed, for it is sweet and it is strong`."""
    because = f", for {listed(list(needed.because))}" if needed.because else ""
    return f"{needed.days} days are needed{because}"


def _rest_words(outlook: Outlook, batch: Batch) -> list[str]:
    verdict = outlook.verdict
    days = f"{verdict.rest.days:.0f} days"
    if verdict.state == "stable":
        sealable = "stabilised" if verdict.safe else "not safe to seal"
        agree = f"the readings agree over {days} at {_latest(batch)}{_above(outlook)}"
        return [f"{agree}: stable, not finished, {sealable}"]
    words = [f"finished at {_latest(batch)}: the readings agree over {days}"]
    if verdict.may_hold is not None and verdict.may_hold >= HIDDEN_POINTS:
        words.append(f"a glass cannot tell: up to {verdict.may_hold:.0f} points of sugar may still be there")
    return words


def _above(outlook: Outlook) -> str:
    verdict = outlook.verdict
    if not verdict.points_to_go or verdict.least_end is None:
        return ""
    least = f"{verdict.least_end:.3f}, where its yeast should have come at least"
    return f", {verdict.points_to_go:.0f} points above {least}"


def _latest(batch: Batch) -> str:
    return f"{batch.latest.sg:.3f}" if batch.latest else "?"


def _course_words(outlook: Outlook) -> list[str]:
    if outlook.final_sg is None or outlook.verdict.state in ("stable", "finished"):
        return []
    if outlook.verdict.state == "stalled":
        return [f"if it moves on by itself, it will most likely end {_span(outlook.final_sg)}"]
    words = [_date_words(outlook), f"will most likely end {_span(outlook.final_sg)}"]
    line = "; ".join(word for word in words if word)
    chance = outlook.stall_probability or 0.0
    if chance >= 0.1:
        return [line, f"{100 * round(chance, 1):.0f} % likely that it has stalled"]
    return [line]


def _date_words(outlook: Outlook) -> str:
    dates, now = outlook.done_on, outlook.at
    if dates is None or dates.p50 is None:
        return "more than a year to go at this pace"
    days = (dates.p50 - now) / timedelta(days=1)
    if dates.p90 is not None and (dates.p90 - now) < timedelta(days=1.5):
        return "at its end, as far as readings tell"
    first = dates.p10 or now
    about = f"about {counted(round(days), 'day')} to go" if days >= 0.5 else "nearly done"
    if dates.p90 is None:
        return f"{about}, {day(first, now)} at the soonest"
    if day(first, now) == day(dates.p90, now):
        return about
    return f"{about}, {days_between(first, dates.p90, now)}"


def _span(band: Band) -> str:
    low, high = f"{band.p10:.3f}", f"{band.p90:.3f}"
    return f"at {low}" if low == high else f"at {low} to {high}"


def _gas_words(outlook: Outlook) -> list[str]:
    sealing = outlook.sealing
    if sealing is None or sealing.volumes[3] < GAS_WORTH_A_WORD:
        return []
    low, _, high, most = sealing.volumes
    span = f"{low:.0f} to {high:.0f}" if round(low) != round(high) else f"about {high:.1f}"
    beyond = f", at most {most:.1f}" if most - high >= 0.1 else ""
    words = [f"gas still to come: {span} volumes{beyond}"]
    # While it works under an airlock nobody thinks of sealing it; once it rests, somebody does.
    if sealing.sealed_since is not None or outlook.verdict.state in ("stable", "finished", "undecided"):
        words += _pressure_words(sealing)
    return words


def _pressure_words(sealing: Sealing) -> list[str]:
    if sealing.hours_soonest is None:
        return []
    sealed = "sealed as it is" if sealing.sealed_since is not None else "if it were sealed now"
    if sealing.hours_soonest <= 0.5 and sealing.sealed_since is not None:
        return [f"{sealed}: it may already be past what its {sealing.vessel} bears: keep glass at arm's length"]
    bears = f"{sealing.rating_bar:.1f} bar" if sealing.rating_bar > 0 else "no pressure"
    return [f"{sealed}: a {sealing.vessel} bears {bears}; past that in {_at_least(sealing.hours_soonest)}"]


def _at_least(hours: float) -> str:
    return "under an hour" if hours < 1 else f"{span(hours / 24)} or more"
