"""The outlook in words, the most useful first, each short enough for two lines of eighty columns."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from mustwatch.cellar.batch import Batch
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import counted
from mustwatch.said.dates import day, days_between
from mustwatch.said.figures import CELSIUS, gravities
from mustwatch.said.standing import state_words

if TYPE_CHECKING:
    from mustwatch.judgement.forecast.outlook import Outlook
    from mustwatch.judgement.forecast.sealed import Sealing

GAS_WORTH_A_WORD = 0.3  # volumes


def words_of(outlook: Outlook, batch: Batch, settings: Settings = CELSIUS) -> tuple[str, ...]:
    """The outlook in words: the state, then what is foreseen."""
    state = state_words(batch, outlook.verdict, outlook.at, settings)
    return (*state, *foreseen(outlook, settings)) if state else ("not pitched yet",)


def foreseen(outlook: Outlook, settings: Settings = CELSIUS) -> list[str]:
    """Where it heads, the gas, what is not known; nothing where nothing was pitched."""
    verdict = outlook.verdict
    if verdict.state is None:
        return []
    words = [*course_words(outlook, settings), *_gas_words(outlook)]
    if outlook.start_unread:
        since = "not read since the last change" if outlook.start_unread != "never" else "start gravity not read"
        words.append(f"{since}: the forecast is wide")
    if outlook.final_sg is None:
        words.append("no forecast: no gravity has been read")
    if verdict.missing:
        words.append("not recorded: " + ", ".join(verdict.missing))
    return words


def course_words(outlook: Outlook, settings: Settings) -> list[str]:
    """How long it has to go and where it will most likely end; nothing where it rests."""
    if outlook.final_sg is None or outlook.verdict.state in ("stable", "finished"):
        return []
    end = gravities(outlook.final_sg.p10, outlook.final_sg.p90, settings)
    if outlook.verdict.state == "stalled":
        return [f"if it moves on by itself, it will most likely end at {end}"]
    line = f"{_date_words(outlook)}; will most likely end at {end}"
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


def _gas_words(outlook: Outlook) -> list[str]:
    sealing = outlook.sealing
    if sealing is None or sealing.volumes[3] < GAS_WORTH_A_WORD:
        return []
    low, _, high, most = sealing.volumes
    volumes = f"{low:.0f} to {high:.0f}" if round(low) != round(high) else f"about {high:.1f}"
    beyond = f", at most {most:.1f}" if most - high >= 0.1 else ""
    words = [f"gas still to come: {volumes} volumes{beyond}"]
    # While it works under an airlock nobody thinks of sealing it; once it rests, somebody does.
    if sealing.sealed_since is not None or outlook.verdict.state in ("stable", "finished", "undecided"):
        words += pressure_words(sealing)
    return words


def pressure_words(sealing: Sealing) -> list[str]:
    """When a sealed vessel may be past what it bears; nothing where it is not within the time looked at."""
    if sealing.hours_soonest is None:
        return []
    # No hours are told: a span until too much reads as one until which it is safe.
    bears = f"for {sealing.rating_bar:.1f} bar" if sealing.rating_bar > 0 else "for no pressure"
    more = ", which this gas can pass" if sealing.rating_bar > 0 else ""
    if sealing.sealed_since is None:
        return [f"do not seal it: a {sealing.vessel} is rated {bears}{more}"]
    return [f"sealed, and more gas is to come: a {sealing.vessel} is rated {bears}{more}; keep away until it is vented"]
