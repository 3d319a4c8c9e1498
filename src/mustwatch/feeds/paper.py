"""A batch on one sheet: HTML with its chart as SVG, that needs no network and prints on white paper.

Everything a user wrote is made visible and escaped. The inks keep WCAG 2.2 contrast on their grounds: 4.5:1 for text,
3:1 for what is drawn (success criteria 1.4.3 and 1.4.11).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from html import escape

from mustwatch.ledger.visible import visible, visible_lines

GENERATOR = '<meta name="generator" content="mustwatch">'
GROUND, TEXT, QUIET, RULE_LINE = "#ffffff", "#1b1b1b", "#4a4a4a", "#767676"
BAND, BAND_EDGE, COURSE = "#dbe7f1", "#5f7f9a", "#0b4a7a"
DANGER_GROUND, DANGER_TEXT = "#fbe3e3", "#7a0c0c"
PAIRS = (  # (ink, ground, least contrast)
    (TEXT, GROUND, 4.5), (QUIET, GROUND, 4.5), (TEXT, BAND, 4.5), (DANGER_TEXT, DANGER_GROUND, 4.5),
    (RULE_LINE, GROUND, 3.0), (BAND_EDGE, GROUND, 3.0), (COURSE, GROUND, 3.0), (COURSE, BAND, 3.0),
)  # fmt: skip
POLICY = "default-src 'none'; style-src 'unsafe-inline'"  # the page asks nothing of anybody, whatever stands in it
STYLE = f"""
@page {{ size: A4; margin: 14mm }}
* {{ box-sizing: border-box }}
body {{ margin: 0 auto; max-width: 56em; padding: 1.5em; background: {GROUND}; color: {TEXT};
       font: 15px/1.4 system-ui, sans-serif }}
h1 {{ font-size: 1.5em; margin: 0 0 .1em }}
h2 {{ font-size: 1.05em; margin: 1.2em 0 .3em; border-bottom: 1px solid {RULE_LINE} }}
.made {{ color: {QUIET}; margin: 0 }}
table {{ border-collapse: collapse; width: 100% }}
th, td {{ text-align: left; vertical-align: top; padding: .1em .8em .1em 0; overflow-wrap: anywhere }}
th {{ font-weight: 600; width: 9.5em; color: {QUIET} }}
tr {{ break-inside: avoid }}
.danger th, .danger td {{ background: {DANGER_GROUND}; color: {DANGER_TEXT} }}
h2 {{ break-after: avoid }}
svg {{ width: 100%; height: auto; display: block }}
svg text {{ font: 11px system-ui, sans-serif; fill: {TEXT} }}
@media print {{
  body {{ padding: 0; max-width: none; font-size: 9.5pt; line-height: 1.25 }}
  svg {{ max-height: 62mm }}
}}
"""


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with rows of (label, text); grave: the rows that are dangers, by their place."""

    head: str
    rows: tuple[tuple[str, str], ...]
    grave: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Curve:
    """What the chart draws: (time, SG) of readings, (time, low, high) of the band; ticks: SG in the cellar's words."""

    readings: tuple[tuple[datetime, float], ...]
    band: tuple[tuple[datetime, float, float], ...] = ()
    ticks: tuple[tuple[float, str], ...] = ()
    days: tuple[tuple[datetime, str], ...] = ()
    said: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A report: its title, what it is and when it was made, the chart, and the sections in order."""

    title: str
    made: str
    curve: Curve
    sections: tuple[Section, ...]


def page(sheet: Sheet) -> str:
    """The report as one HTML document."""
    title = _text(sheet.title)
    parts = [_section(section) for section in sheet.sections if section.rows]
    drawn = f"<h2>Gravity</h2>\n{svg(sheet.curve)}" if sheet.curve.readings else ""
    # The chart stands behind the first section, where the eye looks for the course.
    body = "\n".join([*parts[:2], drawn, *parts[2:]])
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'{GENERATOR}\n<meta http-equiv="Content-Security-Policy" content="{escape(POLICY)}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n<main>\n"
        f'<h1>{title}</h1>\n<p class="made">{_text(sheet.made)}</p>\n{body}\n</main>\n</body>\n</html>\n'
    )


def _text(text: str) -> str:
    return "<br>".join(escape(line) for line in visible_lines(text))


def _section(section: Section) -> str:
    rows = "\n".join(
        f"<tr{' class=danger' if place in section.grave else ''}>{_cells(label, text)}</tr>"
        for place, (label, text) in enumerate(section.rows)
    )
    return f"<h2>{_text(section.head)}</h2>\n<table>\n{rows}\n</table>"


def _cells(label: str, text: str) -> str:
    if not label:
        return f'<td colspan="2">{_text(text)}</td>'
    return f'<th scope="row">{_text(label)}</th><td>{_text(text)}</td>'


LEFT, TOP, WIDTH, HEIGHT = 52.0, 10.0, 700.0, 210.0


def svg(curve: Curve) -> str:
    """The chart as SVG: the band of the outlook, the readings joined by a line, and the scales."""
    times = [at for at, _ in curve.readings] + [at for at, _, _ in curve.band]
    levels = [sg for _, sg in curve.readings] + [sg for _, low, high in curve.band for sg in (low, high)]
    levels += [sg for sg, _ in curve.ticks]
    frame = _Frame(min(times), max(times), min(levels), max(levels))
    drawn = [*_scales(curve, frame), *_band(curve, frame), *_course(curve, frame)]
    box = f"0 0 {LEFT + WIDTH + 20:g} {TOP + HEIGHT + 26:g}"
    said = escape(visible(curve.said), quote=True)
    return f'<svg viewBox="{box}" role="img" aria-label="{said}">\n' + "\n".join(drawn) + "\n</svg>"


@dataclass(frozen=True, slots=True)
class _Frame:
    first: datetime
    last: datetime
    low: float
    high: float

    def x(self, at: datetime) -> str:
        whole = max((self.last - self.first) / timedelta(days=1), 0.5)
        return f"{LEFT + WIDTH * ((at - self.first) / timedelta(days=1)) / whole:.1f}"

    def y(self, sg: float) -> str:
        return f"{TOP + HEIGHT * (self.high - sg) / max(self.high - self.low, 0.004):.1f}"


def _scales(curve: Curve, frame: _Frame) -> Iterable[str]:
    bottom = TOP + HEIGHT
    yield f'<path d="M{LEFT:g} {TOP:g}V{bottom:g}H{LEFT + WIDTH:g}" fill="none" stroke="{RULE_LINE}"/>'
    for sg, words in curve.ticks:
        yield f'<text x="{LEFT - 6:g}" y="{frame.y(sg)}" text-anchor="end" dy="4">{escape(visible(words))}</text>'
    for at, words in curve.days:
        yield f'<text x="{frame.x(at)}" y="{bottom + 16:g}" text-anchor="middle">{escape(visible(words))}</text>'


def _band(curve: Curve, frame: _Frame) -> Iterable[str]:
    if len(curve.band) > 1:
        above = [f"{frame.x(at)} {frame.y(high)}" for at, _, high in curve.band]
        below = [f"{frame.x(at)} {frame.y(low)}" for at, low, _ in reversed(curve.band)]
        yield f'<path d="M{"L".join([*above, *below])}Z" fill="{BAND}" stroke="{BAND_EDGE}"/>'


def _course(curve: Curve, frame: _Frame) -> Iterable[str]:
    spots: Sequence[tuple[str, str]] = [(frame.x(at), frame.y(sg)) for at, sg in curve.readings]
    line = " ".join(f"{x},{y}" for x, y in spots)
    yield f'<polyline points="{line}" fill="none" stroke="{COURSE}" stroke-width="1.5"/>'
    for x, y in spots:
        yield f'<circle cx="{x}" cy="{y}" r="3" fill="{COURSE}"/>'
