"""A small cellar on disk and the round opened on it, for the tests of the screens."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path

from mustwatch.commands.context import Context
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Event
from mustwatch.ledger.store import Ledger
from mustwatch.screens.app import RoundApp
from mustwatch.screens.look import Look
from mustwatch.screens.round.reading_form import ReadingForm
from mustwatch.screens.unsent import Unsent

NOW = datetime(2026, 5, 14, 18, 30, tzinfo=timezone(timedelta(hours=2)))
SIZES = ((80, 24), (120, 36))


def ago(days: float) -> datetime:
    """So many days before the tests' now."""
    return NOW - timedelta(days=days)


def batch(tag: str, days: float, gravities: list[float], *, closure: str | None = "airlock", name: str = "") -> list:
    """A batch pitched so many days ago, read at even distances, the last time a day ago."""
    events = [
        draft("mixed", ago(days + 0.1), tag, name=name or tag, volume_l=4.5, vessel={"kind": "jug", "capacity_l": 5}),
        draft("read", ago(days + 0.05), tag, gravity={"value": gravities[0], "scale": "sg", "sample_c": 20}, must_c=20),
        draft("pitched", ago(days), tag, yeast={"label": "dry yeast", "class": "white-wine"}, must_c=20),
    ]
    if closure:
        events.append(draft("closed", ago(days), tag, closure=closure))
    for number, sg in enumerate(gravities[1:], 1):
        at = ago(days - number * (days - 1) / (len(gravities) - 1))
        events.append(draft("read", at, tag, gravity={"value": sg, "scale": "sg", "sample_c": 20}, must_c=20))
    return events


def numbered(events: list) -> list:
    """The events with ids, as a ledger would have stamped them."""
    return [stamped(event, f"e{number}", number) for number, event in enumerate(events, 1)]


FERMENTING = [1.100, 1.085, 1.070, 1.055]


def usual() -> list:
    """Three batches: one sealed while alive, two that ferment quietly."""
    return [
        *batch("quiet-1", 9, FERMENTING),
        *batch("sealed-1", 9, FERMENTING, closure="tight-cap"),
        *batch("quiet-2", 8, FERMENTING),
    ]


def made(path: Path, events: list, settings: str = '[cellar]\nname = "Under the stairs"\n') -> Path:
    """A cellar on disk that holds the events."""
    Ledger.make(path, settings)
    Ledger(path).append(events, NOW)
    return path


def looked(path: Path, *, now: datetime | None = None, clock: Callable[[], datetime] = lambda: NOW) -> Look:
    """A look at a cellar."""
    context = Context(path, now, clock)
    return Look(context, context.settings)


def opened(path: Path, *, now: datetime | None = None, clock: Callable[[], datetime] = lambda: NOW) -> RoundApp:
    """The round on a cellar, not yet running; its unsent entries are kept beside the cellar."""
    return RoundApp(looked(path, now=now, clock=clock), Unsent(path, path.parent / "unsent.json"))


def played(app: RoundApp, play: Callable[..., Awaitable[None]], size: tuple[int, int] = (80, 24)) -> None:
    """Runs the app at a size and plays on it once all of it is there."""

    async def run() -> None:
        async with app.run_test(size=size) as pilot:
            for _ in range(100):
                await pilot.pause(0.02)
                if app.screen.query("#when"):
                    break
            await pilot.pause()
            await play(pilot)

    asyncio.run(run())


async def typed(pilot, text: str) -> None:
    """Types a text into what has the focus."""
    for char in text:
        await pilot.press({" ": "space", ".": "full_stop", '"': "quotation_mark", ",": "comma"}.get(char, char))
    await pilot.pause()


def shown(app: RoundApp, selector: str) -> str:
    """What a widget of the screen shows, as text."""
    pane = app.screen.query_one(selector)
    return "\n".join(pane.render_line(y).text.rstrip() for y in range(pane.size.height))


def whole(app: RoundApp) -> str:
    """The whole screen, as text."""
    strips = app.screen._compositor.render_strips(app.screen.size)
    return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips)


def here(app: RoundApp) -> str | None:
    """The tag under the cursor."""
    return app.screen_stack[0].shown.tag


def form(app: RoundApp) -> ReadingForm:
    """The reading form."""
    return app.screen_stack[0].query_one(ReadingForm)


def recorded(path: Path, since: int) -> list[Event]:
    """The events on disk after the first `since`."""
    return list(Ledger(path).read().events)[since:]
