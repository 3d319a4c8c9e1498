"""The drawn course: readings, what was done, and the forecast's fan."""

import re
from dataclasses import dataclass
from datetime import datetime, timedelta

import pytest
from screens.small_cellar import FERMENTING, NOW, ago, batch, numbered
from screens.text import text_of

from mustwatch.cellar.fold import fold
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.settings import Settings
from mustwatch.ledger.visible import cells
from mustwatch.screens.round.course import course_lines


@dataclass
class Point:
    """One day of a forecast."""

    at: datetime
    p10: float
    p50: float
    p90: float


@dataclass
class Fan:
    """A forecast."""

    course: tuple


def drawn(events, outlook=None, ascii_only=True, width=60, height=9, settings=None):
    """The chart of a batch."""
    settings = settings or Settings()
    whole = fold(numbered(events), settings, NOW).batches["quiet-1"]
    return course_lines(whole, settings, NOW, width, height, outlook, ascii_only)


def test_every_reading_is_an_o_and_the_axis_names_its_ends():
    """Four readings, four signs; dates below, gravities at the side."""
    text = text_of(drawn(batch("quiet-1", 9, FERMENTING)))
    assert text.count("o") >= 4
    assert "1.100" in text.splitlines()[0]
    assert "5 May" in text and "now" in text
    assert "P pitched" in text


def test_no_line_is_wider_than_asked_and_all_is_ascii_where_asked():
    """It has to fit the narrow pane."""
    fan = Fan(tuple(Point(NOW + timedelta(days=day), 1.0, 1.01, 1.03) for day in range(30)))
    for width in (36, 60, 110):
        lines = drawn(batch("quiet-1", 9, FERMENTING), fan, width=width)
        assert all(cells("".join(text for text, _ in line)) <= width for line in lines)
        assert text_of(lines).replace("°", "").isascii()


def test_the_forecast_is_drawn_beyond_now():
    """A fan of dots, in its own role."""
    fan = Fan(tuple(Point(NOW + timedelta(days=day), 1.0, 1.01, 1.03) for day in range(30)))
    roles = {role for line in drawn(batch("quiet-1", 9, FERMENTING), fan) for _, role in line}
    assert "fan" in roles
    assert "fan" not in {role for line in drawn(batch("quiet-1", 9, FERMENTING)) for _, role in line}


def test_a_doubted_reading_is_a_question_mark():
    """It is shown, but it is not the course."""
    events = [
        *batch("quiet-1", 9, FERMENTING),
        draft("read", ago(0.2), "quiet-1", gravity={"value": 1.4, "scale": "sg"}),
    ]
    assert "?" in text_of(drawn(events))


def test_a_batch_without_readings_says_so():
    """No empty axes."""
    events = [draft("mixed", ago(1), "quiet-1", volume_l=4)]
    assert text_of(drawn(events)) == "no readings to draw yet"


def test_labels_are_in_the_cellars_own_scale():
    """Brix for those who keep Brix."""
    assert "Bx" in text_of(drawn(batch("quiet-1", 9, FERMENTING), settings=Settings(gravity="brix")))


def test_the_levels_to_come_to_are_dotted_and_named():
    """Where the yeast should have come, and where it reads dry; a batch in bottles has none."""
    text = text_of(drawn(batch("quiet-1", 9, FERMENTING)))
    assert re.search(r"\.{5} \d\.\d{3} least end", text) and "dry: to bottle when steady" in " ".join(text.split())
    bottled = [
        *batch("quiet-1", 9, FERMENTING),
        draft("bottled", ago(0.1), "quiet-1", lots=[{"size_ml": 750, "count": 6}]),
    ]
    assert "least end" not in text_of(drawn(bottled))


@pytest.mark.parametrize(("width", "height"), [(40, 8), (100, 25)])
def test_it_can_be_read_small_and_large(width, height):
    """Every reading, the present, the end, within the room asked for."""
    fan = Fan(tuple(Point(NOW + timedelta(days=day), 1.0, 1.01, 1.03) for day in range(30)))
    lines = drawn(batch("quiet-1", 9, FERMENTING), fan, ascii_only=False, width=width, height=height)
    assert all(cells("".join(text for text, _ in line)) <= width for line in lines)
    assert {"reading", "fan", "now", "level"} <= {role for line in lines for _, role in line}
    assert sum(text.count("o") for line in lines[:height] for text, role in line if role == "reading") == len(
        FERMENTING
    )
