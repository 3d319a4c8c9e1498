"""What findings say of a view, in the words and figures of `said`."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from mustwatch.judgement.doses import Dose, sorbates, sulfites
from mustwatch.ledger.events import Heated
from mustwatch.rules.view import View
from mustwatch.said import dates, figures
from mustwatch.said.standing import needed_words

span, litres, observed = dates.span, figures.litres, figures.observed
points, times, grams, needed = figures.points, figures.times, figures.grams, needed_words
acidity = figures.acidity


def gravity(view: View, sg: float) -> str:
    """A gravity in the cellar's scale."""
    return figures.gravity(sg, view.settings)


def temperature(view: View, celsius: float) -> str:
    """A temperature in the cellar's scale."""
    return figures.degrees(celsius, view.settings)


def warmth(view: View, kelvin: float) -> str:
    """A difference of temperatures in the cellar's scale."""
    return figures.warmth(kelvin, view.settings)


def date(view: View, at: datetime) -> str:
    """A day: `14 May`, with the year when it is not this one."""
    return dates.day(at, view.now)


def moment(view: View, at: datetime) -> str:
    """A day and its time: `14 May 09:00`."""
    return dates.moment(at, view.now)


def age(view: View, since: datetime) -> str:
    """How long ago something was, without the word: `19 days`."""
    return dates.age(since, view.now)


def ago(view: View, at: datetime) -> str:
    """How long ago something was: `19 days ago`."""
    return dates.ago(at, view.now)


def unknown_doses(view: View, doses: Iterable[Dose]) -> tuple[str, ...]:
    """The missing facts of doses."""
    unknown = [dose.event for dose in doses if dose.mg_per_l is None]
    lacking = [
        f"{'the volume it went into' if event.g else f'how much {event.category} was given'} on {date(view, event.at)}"
        for event in unknown
    ]
    return tuple(dict.fromkeys(lacking))


def unknown_stabilisers(view: View) -> tuple[str, ...]:
    """What is not known of the doses of sulfite and sorbate, in words for a finding's missing facts."""
    return unknown_doses(view, [*sulfites(view.batch), *sorbates(view.batch)])


def heated(view: View, heating: Heated | None) -> str:
    """That bottles were heated enough, and what would show it, as a sentence to follow another; nothing where not."""
    if heating is None:
        return ""
    warm = temperature(view, heating.c)
    return f" They were held at {warm} on {date(view, heating.at)}: read one two weeks later to see that it held."


def days(view: View, at: datetime) -> float:
    """Days from a time to now."""
    return (view.now - at) / timedelta(days=1)


def yeast(view: View) -> str:
    """The yeast of the batch: `this yeast (label)`, or by its class where it has no name of its own."""
    pitched = view.batch.pitches[-1].yeast if view.batch.pitches else None
    if pitched is None or (pitched.label == "yeast" and pitched.yeast_class == "unknown"):
        return "this yeast"
    name = pitched.label if pitched.label != "yeast" else f"{pitched.yeast_class.replace('-', ' ')} yeast"
    return f"this yeast ({name})"


def began(view: View) -> str:
    """How a date of its beginning is led in: `pitched on`, or what is known where that was not recorded."""
    return "at work at the latest on" if view.batch.pitching_assumed else "pitched on"


def beginning(view: View) -> str:
    """From when its days are counted: `it was pitched`, or the first sign of life where that was not recorded."""
    return "the first sign of life" if view.batch.pitching_assumed else "it was pitched"
