"""The page of a batch: nothing from outside, nothing that acts, and inks that can be read."""

from __future__ import annotations

import re
import xml.etree.ElementTree as xml
from datetime import UTC, datetime, timedelta
from html.parser import HTMLParser

import pytest

from mustwatch.feeds.paper import PAIRS, STYLE, Curve, Section, Sheet, page, svg

NOON = datetime(2026, 5, 14, 12, tzinfo=UTC)
VOID = {"meta", "br"}
HOSTILE = "<script>alert(1)</script><img src=x onerror=alert(1)> \" onload='x' &lt; \x1b[2J \u202e</td></table>"


def _luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(ink: str, ground: str) -> float:
    dark, light = sorted((_luminance(ink), _luminance(ground)))
    return (light + 0.05) / (dark + 0.05)


def test_the_reckoning_of_contrast_is_right() -> None:
    """Black on white is 21:1, and #767676 on white is the well-known 4.54:1."""
    assert _contrast("#000000", "#ffffff") == pytest.approx(21) and _contrast("#767676", "#ffffff") == pytest.approx(
        4.54, abs=0.01
    )


@pytest.mark.parametrize(("ink", "ground", "least"), PAIRS)
def test_every_ink_can_be_read_on_its_ground(ink: str, ground: str, least: float) -> None:
    """WCAG 2.2: 4.5:1 for text, 3:1 for what is drawn."""
    assert _contrast(ink, ground) >= least


def test_no_colour_is_used_that_was_not_judged() -> None:
    """A new ink in the style or the chart needs its pair."""
    sheet = Sheet("a", "b", _curve(), (Section("c", (("d", "e"),), frozenset({0})),))
    judged = {colour for ink, ground, _ in PAIRS for colour in (ink, ground)}
    assert set(re.findall(r"#[0-9a-fA-F]{3,8}\b", page(sheet))) <= judged and "#" in STYLE


def _curve() -> Curve:
    days = [NOON + timedelta(days=day) for day in range(4)]
    readings = tuple((at, 1.09 - 0.01 * place) for place, at in enumerate(days))
    band = ((days[-1], 1.05, 1.06), (days[-1] + timedelta(days=9), 1.0, 1.04))
    return Curve(readings, band, ((1.09, "1.090"), (1.0, "1.000")), ((days[0], "14 May"),), "Chart: <falls>")


class _Tags(HTMLParser):
    """Reads a page and fails where a tag does not close the one that is open."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.seen: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words += data


def _read(document: str) -> _Tags:
    tags = _Tags()
    tags.feed(document)
    tags.close()
    assert tags.open == []
    return tags


def test_what_users_wrote_is_text_wherever_it_stands() -> None:
    """In the title, in a heading, in a label, in a text, in the words of the chart."""
    curve = Curve(((NOON, 1.09),), ticks=((1.09, HOSTILE),), days=((NOON, HOSTILE),), said=HOSTILE)
    document = page(Sheet(HOSTILE, HOSTILE, curve, (Section(HOSTILE, ((HOSTILE, HOSTILE), ("", HOSTILE))),)))
    tags = _read(document)
    allowed = {"html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "p", "table", "tr", "th", "td",
               "br", "svg", "path", "text", "polyline", "circle"}  # fmt: skip
    assert {tag for tag, _ in tags.seen} <= allowed
    assert not any(name.startswith("on") for _, attrs in tags.seen for name in attrs)
    assert tags.words.count("alert(1)") >= 8 and "\x1b" not in document and "\u202e" not in document


def test_the_page_asks_nothing_of_the_network() -> None:
    """No address in it, and a policy that forbids what a flaw might bring in."""
    document = page(Sheet("a", "b", _curve(), (Section("c", (("d", "e"),)),)))
    assert not re.search(r"https?:|//\w|\bsrc=|\bhref=|url\(|@import", document)
    assert "default-src &#x27;none&#x27;" in document and "@media print" in document


def test_the_chart_is_sound_xml_with_a_spot_for_each_reading_in_its_frame() -> None:
    """Higher gravity stands higher, later stands further right; nothing is drawn outside."""
    drawn = xml.fromstring(svg(_curve()))
    assert drawn.get("aria-label") == "Chart: <falls>" and drawn.get("role") == "img"
    _, _, width, height = map(float, drawn.get("viewBox", "").split())
    spots = [(float(spot.get("cx", "")), float(spot.get("cy", ""))) for spot in drawn.iter("circle")]
    assert len(spots) == 4 and spots == sorted(spots) and all(0 <= x <= width and 0 <= y <= height for x, y in spots)
    assert [y for _, y in spots] == sorted(y for _, y in spots)


@pytest.mark.parametrize("readings", [((NOON, 1.09),), ((NOON, 1.0), (NOON, 1.0))])
def test_one_level_or_one_moment_is_drawn_all_the_same(readings) -> None:
    """A chart of one reading divides by nothing."""
    assert svg(Curve(readings)).count("<circle") == len(readings)


def test_a_line_break_in_a_note_is_one_on_the_page() -> None:
    """A note keeps its lines."""
    assert "one<br>two" in page(Sheet("a", "b", Curve(()), (Section("c", (("d", "one\ntwo"),)),)))
