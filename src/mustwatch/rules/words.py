"""What findings say of a view, in the words and figures of `said`."""

from datetime import datetime, timedelta

from mustwatch.rules.view import View
from mustwatch.said import dates, figures
from mustwatch.said.outlook_words import needed_words

span, points, times, needed = dates.span, figures.points, figures.times, needed_words


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
