"""Messages of a broker, MQTT 5 or 3.1.1: taken for good once on disk, through restarts and lost networks."""

from __future__ import annotations

import asyncio
import logging
import os
import random
import ssl
import stat
from collections.abc import Awaitable, Callable, Mapping
from pathlib import Path
from typing import Any

from mustwatch.feeds.probes.config import Broker

EXTRA = "messages of a broker need the extra: python -m pip install 'mustwatch[mqtt]'"
PASSWORD = "MUSTWATCH_BROKER_PASSWORD"
FIRST_WAIT_S, LONGEST_WAIT_S = 1.0, 300.0
SESSION_S = 7 * 86400  # how long a broker keeps messages for a listener that is away
QUIET = logging.getLogger("mustwatch.broker")
QUIET.addHandler(logging.NullHandler())
QUIET.propagate = False  # what it would say is said once, at each turn
Take = Callable[[str, bytes, bool], None]  # topic, payload, whether it was retained


def password_of(broker: Broker) -> str | None:
    """The password: of a file of mode 0600, else of the environment. Raises ValueError."""
    if broker.password_file is None:
        return os.environ.get(PASSWORD)
    return secret_of(Path(broker.password_file).expanduser(), "feeds.broker.password_file")


def secret_of(path: Path, key: str) -> str:
    """The text of a file that only its owner can read. Raises ValueError naming the key, never the text."""
    try:
        if stat.S_IMODE(path.stat().st_mode) & 0o077:
            raise ValueError(f"{key}: others can read {path}; say chmod 600 {path}")
        return path.read_text("utf-8").strip()
    except OSError as why:
        raise ValueError(f"{key}: {path} cannot be read ({why.strerror})") from None


class Line:
    """The connection to a broker, taken up again whenever it is lost.

    topics: each with the service asked for, 1 where the broker keeps what comes while nobody listens;
    say: one line at each turn, not at each try; presence: the topic that tells whether this listens, or None.
    """

    def __init__(
        self, broker: Broker, name: str, topics: Mapping[str, int], take: Take, say: Callable[[str], None]
    ) -> None:
        self.broker, self.name, self.topics, self.take, self.say = broker, name, topics, take, say
        self.presence: str | None = None
        self._refused: asyncio.Future[None] | None = None
        self._client: Any = None
        self._up = asyncio.Event()

    async def run(self) -> None:
        """Connects, listens, and begins again, until cancelled. Raises ValueError for what trying cannot mend."""
        import aiomqtt

        wait_s, down = FIRST_WAIT_S, False
        while True:
            began = asyncio.get_running_loop().time()
            try:
                await self._listen(down)
            except (aiomqtt.MqttError, OSError) as why:
                if not down:
                    self.say(f"broker {self.broker.host}: lost ({_plain(why)}); trying again until it is back")
                down = True
            finally:
                self._client = None
                self._up.clear()
            if asyncio.get_running_loop().time() - began > 60:
                wait_s = FIRST_WAIT_S
            await asyncio.sleep(wait_s * random.uniform(0.8, 1.2))
            wait_s = min(2 * wait_s, LONGEST_WAIT_S)

    async def _listen(self, was_down: bool) -> None:
        import aiomqtt

        async with aiomqtt.Client(**self._asked()) as client:
            self._client = client
            self._refused = asyncio.get_running_loop().create_future()
            for topic, service in self.topics.items():
                await client.subscribe(topic, qos=service)
            if self.presence:
                await client.publish(self.presence, "online", qos=1, retain=True)
            self._up.set()
            self.say(f"broker {self.broker.host}: {'back' if was_down else 'connected'}")
            await _first(_drained(client), self._refused)

    def _taken(self, topic: str, payload: bytes, retained: bool) -> None:
        """Takes one message; one that cannot be kept is not acknowledged, and the connection is given up."""
        try:
            self.take(topic, payload, retained)
        except OSError as why:
            if self._refused is not None and not self._refused.done():
                self._refused.set_exception(why)
            raise

    def _asked(self) -> dict[str, Any]:
        import aiomqtt
        from paho.mqtt.packettypes import PacketTypes
        from paho.mqtt.properties import Properties

        broker = self.broker
        asked: dict[str, Any] = {
            "hostname": broker.host, "port": broker.port, "username": broker.user, "password": password_of(broker),
            "identifier": self.name, "timeout": 30, "keepalive": 60, "queue_type": _queue(self._taken), "logger": QUIET,
        }  # fmt: skip
        if broker.version == "5":
            keep = Properties(PacketTypes.CONNECT)
            keep.SessionExpiryInterval = SESSION_S
            asked |= {"protocol": aiomqtt.ProtocolVersion.V5, "clean_start": False, "properties": keep}
        else:
            asked |= {"protocol": aiomqtt.ProtocolVersion.V311, "clean_session": False}
        if broker.tls:
            asked["tls_context"] = _trusting(broker.ca_file)
        if self.presence:
            asked["will"] = aiomqtt.Will(self.presence, "offline", qos=1, retain=True)
        return asked

    async def publish(self, messages: Mapping[str, bytes]) -> bool:
        """Puts retained messages out where the broker is there; whether all went out."""
        import aiomqtt

        client = self._client
        if client is None or not self._up.is_set():
            return False
        try:
            for topic, payload in messages.items():
                await client.publish(topic, payload, qos=1, retain=True)
        except aiomqtt.MqttError:
            return False
        return True


def _trusting(ca_file: str | None) -> ssl.SSLContext:
    try:
        return ssl.create_default_context(cafile=ca_file and str(Path(ca_file).expanduser()))
    except OSError as why:
        raise ValueError(f"feeds.broker.ca_file: {ca_file} cannot be used ({why.strerror or why})") from None


async def _drained(client: Any) -> None:
    """Waits for the end of a connection: each message was taken in the queue, before it was acknowledged."""
    async for _ in client.messages:
        pass


async def _first(*waits: Awaitable[None]) -> None:
    """The outcome of whichever ends first; the other is let go."""
    tasks = [asyncio.ensure_future(one) for one in waits]
    try:
        done, _ = await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
    finally:
        for task in tasks:
            task.cancel()
    for task in done:
        task.result()


def _queue(take: Take) -> type:
    """A queue for the client that takes each message at once, on disk, in the call after which it is acknowledged."""

    class Taking(asyncio.Queue):  # type: ignore[type-arg]
        def put_nowait(self, item: Any) -> None:
            take(str(item.topic), item.payload if isinstance(item.payload, bytes) else b"", bool(item.retain))

    return Taking


def _plain(why: BaseException) -> str:
    return " ".join(str(why).split())[:120] or type(why).__name__
