"""The listener: asks the kernel's probes, hears the broker, writes what is due, and stops when told."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Callable, Mapping
from datetime import datetime

from mustwatch.feeds.probes.broker import EXTRA, Line
from mustwatch.feeds.probes.config import Plan, Probe
from mustwatch.feeds.probes.keeper import Keeper
from mustwatch.feeds.probes.kernel import value_of
from mustwatch.feeds.probes.messages import sample_of

LONGEST_TICK_S = 10.0
PUBLISH_S = 600.0  # what is published is judged anew after so long, or when the ledger has changed and a minute passed
PUBLISH_SOONEST_S = 60.0
States = Callable[[], Mapping[str, bytes]]


async def listen(
    plan: Plan, keeper: Keeper, clock: Callable[[], datetime], name: str, states: States, changed: Callable[[], bool]
) -> None:
    """Listens until SIGTERM or SIGINT, or until there is another plan. states: what is to be published, reckoned when
    called; changed: whether there is another plan, asked every few seconds.

    Raises ValueError where the broker cannot be used as it is set, OSError where a value cannot be kept.
    """
    stop = asyncio.Event()
    loop = asyncio.get_running_loop()
    # The client leaves futures behind when a connection breaks; each break is said once already.
    loop.set_exception_handler(lambda _loop, _what: None)
    for number in (signal.SIGTERM, signal.SIGINT):
        loop.add_signal_handler(number, stop.set)
    line = _line(plan, keeper, clock, name)
    tasks = [asyncio.create_task(stop.wait()), asyncio.create_task(_until(changed, plan.every_s))]
    tasks.append(asyncio.create_task(_ticks(plan, keeper, clock, line, states)))
    tasks += [asyncio.create_task(line.run())] if line else []
    if polled := [probe for probe in plan.probes if probe.source != "mqtt"]:
        tasks.append(asyncio.create_task(_polls(polled, plan.every_s, keeper, clock)))
    done, _ = await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
    for task in tasks:
        task.cancel()
    await asyncio.gather(*tasks, return_exceptions=True)
    keeper.tick(clock())
    keeper.spool.close()
    for task in done:
        task.result()


async def _until(changed: Callable[[], bool], every_s: float) -> None:
    while not changed():
        await asyncio.sleep(min(every_s, LONGEST_TICK_S))


def _line(plan: Plan, keeper: Keeper, clock: Callable[[], datetime], name: str) -> Line | None:
    heard = {probe.where["topic"]: probe for probe in plan.probes if probe.source == "mqtt"}
    if plan.broker is None or not (heard or plan.publish):
        return None
    try:
        import aiomqtt  # noqa: F401  only to say in time that it is missing
    except ImportError:
        raise ValueError(EXTRA) from None

    def take(topic: str, payload: bytes, retained: bool) -> None:
        probe = heard.get(topic)
        if probe is None or (retained and "time" not in probe.where):
            # What was retained is old, and without a time of its own nobody knows how old.
            return
        now = clock()
        keeper.take(probe.name, sample_of(probe, payload, now), now, durable="time" in probe.where)

    # What comes while nobody listens can be dated only by its own time: without one the broker need not keep it.
    topics = {topic: int("time" in probe.where) for topic, probe in sorted(heard.items())}
    line = Line(plan.broker, f"{plan.broker.client}-{name}", topics, take, keeper.say)
    line.presence = f"{plan.publish}/listen" if plan.publish else None
    return line


async def _polls(probes: list[Probe], every_s: float, keeper: Keeper, clock: Callable[[], datetime]) -> None:
    while True:
        for probe in probes:
            # A sensor on the bus takes its time; the broker is heard meanwhile.
            found = await asyncio.to_thread(value_of, probe, clock())
            keeper.take(probe.name, found, clock())
        await asyncio.sleep(every_s)


async def _ticks(plan: Plan, keeper: Keeper, clock: Callable[[], datetime], line: Line | None, states: States) -> None:
    loop = asyncio.get_running_loop()
    published, seen = -PUBLISH_S, None
    while True:
        await asyncio.sleep(min(plan.every_s, LONGEST_TICK_S))
        keeper.tick(clock())
        if line is None or plan.publish is None:
            continue
        age_s, now_there = loop.time() - published, keeper.ledger.fingerprint()
        if age_s >= PUBLISH_S or (age_s >= PUBLISH_SOONEST_S and now_there != seen):
            messages = await asyncio.to_thread(states)
            if await line.publish(messages):
                published, seen = loop.time(), now_there
