"""The channels: their secrets, and the way out through each. Nothing here ever says an address."""

from __future__ import annotations

import hashlib
import hmac
import json
import logging
import os
import secrets
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from mustwatch.feeds.notify.post import Channel, Habits, Message, failed, message_for
from mustwatch.feeds.probes.broker import secret_of
from mustwatch.ledger.files import own_bytes, own_folder, write_whole
from mustwatch.rules.finding import Finding

URLS = "MUSTWATCH_NOTIFY"
EXTRA = "warnings out need the extra: python -m pip install 'mustwatch[notify]'"
Send = Callable[[str, str, str], bool]  # address, title, body -> whether it went out


@dataclass(frozen=True, slots=True)
class Sent:
    """What became of one channel: `sent`, `nothing` to send, or `failed`; since: when it began to fail.

    name: its place in the file and its sort, such as `2 (mailto)`; an address may hold a secret in any part of it.
    """

    name: str
    what: str
    since: str = ""
    say: bool = False

    def as_keys(self) -> dict[str, str | None]:
        """As stable keys."""
        return {"channel": self.name, "what": self.what, "failing_since": self.since or None}


def addresses(own: Mapping[str, Any]) -> list[str]:
    """The channels' addresses, of a file of mode 0600, else of the environment. Raises ValueError."""
    if "urls_file" in own:
        text = secret_of(Path(str(own["urls_file"])).expanduser(), "feeds.notify.urls_file")
    else:
        text = os.environ.get(URLS, "")
    found = [line.strip() for line in text.splitlines()]
    found = [line for line in found if line and not line.startswith("#")]
    if not found:
        raise ValueError(f"no channel is named: put addresses into feeds.notify.urls_file (mode 0600), or into {URLS}")
    return found


def through_apprise(address: str, title: str, body: str) -> bool:
    """Sends through one channel; False where it did not go out, or where the address is not understood."""
    try:
        import apprise
    except ImportError:
        raise ValueError(EXTRA) from None
    was = logging.root.manager.disable
    # What libraries log of an address may be a secret.
    logging.disable(logging.CRITICAL)
    try:
        channel = apprise.Apprise.instantiate(address, suppress_exceptions=True)
        return bool(channel and channel.notify(body=body, title=title))
    except Exception:  # whatever a service raises may hold its address
        return False
    finally:
        logging.disable(was)


def send_all(
    folder: Path, urls: Sequence[str], found: Iterable[Finding], habits: Habits, now: datetime,
    send: Send = through_apprise,
) -> list[Sent]:  # fmt: skip
    """Sends each channel what it should get at `now`, local time, and keeps what it was sent. Raises OSError."""
    path, listed = folder / "notify.json", list(found)
    salt, channels = _kept(path)
    told, after = [], {}
    for number, url in enumerate(urls, 1):
        mark = hmac.new(bytes.fromhex(salt), url.encode(), hashlib.sha256).hexdigest()[:16]
        name = f"{number} ({url.partition('://')[0][:20] if '://' in url else 'not understood'})"
        before = channels.get(mark, Channel())
        asked = message_for(before, listed, habits, now)
        after[mark], outcome = _tried(url, name, before, asked, now, send)
        told.append(outcome)
        # Kept after each, so that a crash repeats nothing that went out.
        _keep(path, salt, {**channels, **after})
    _keep(path, salt, after)
    return told


def _tried(
    url: str, name: str, before: Channel, asked: Message | Channel, now: datetime, send: Send
) -> tuple[Channel, Sent]:
    if isinstance(asked, Channel):
        return asked, Sent(name, "nothing", asked.failing)
    if send(url, asked.title, asked.body):
        return asked.after, Sent(name, "sent", say=bool(before.failing))
    channel, say = failed(before, now)
    return channel, Sent(name, "failed", channel.failing, say)


def _kept(path: Path) -> tuple[str, dict[str, Channel]]:
    """What the channels were sent; nothing where that is not known: then all is new."""
    try:
        kept = json.loads(own_bytes(path))
        return str(bytes.fromhex(kept["salt"]).hex()), {
            mark: Channel(**each) for mark, each in kept["channels"].items()
        }
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return secrets.token_hex(16), {}


def _keep(path: Path, salt: str, channels: Mapping[str, Channel]) -> None:
    own_folder(path.parent)
    text = json.dumps({"salt": salt, "channels": {mark: asdict(each) for mark, each in channels.items()}})
    write_whole(path, [text.encode()])
