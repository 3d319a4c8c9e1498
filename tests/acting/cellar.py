"""A cellar in which every place that takes a string holds one that acts, as another device's sync could bring it."""

import json
from datetime import datetime, timedelta
from pathlib import Path

from acting.strings import filed
from screens.small_cellar import made, usual

from mustwatch.ledger.clock import next_id
from mustwatch.ledger.crc import sealed

FOREIGN = "feedc0de00000001.jsonl"


def acting_cellar(path: Path, texts: list[str], now: datetime) -> Path:
    """Three plain batches, and for each text one whose every string is that text."""
    made(path, usual())
    lines, newest = [], None
    for number, text in enumerate(texts):
        for keys in _story(text, number, now):
            newest = next_id(newest, now)
            body = {"v": 1, "id": newest, "seq": len(lines) + 1, **keys, "note": text}
            lines.append(sealed(json.dumps(body).encode()) + b"\n")
    (path / "events" / FOREIGN).write_bytes(b"".join(lines))
    for text in texts[::4]:
        (path / "events" / f"{filed(text)}.jsonl").write_bytes(b'{"junk":"' + text.encode("utf-8", "replace") + b'"}\n')
    return path


def _story(text: str, number: int, now: datetime) -> list[dict]:
    start = now - timedelta(days=20 - number % 12)
    lot = {"size_ml": 500, "count": 9, "bottle": "beer", "closure": "crown-cap", text: text}
    story: list[dict] = [
        {"kind": "mixed", "name": text, "style": text, "volume_l": 4.5, "vessel": {"kind": text, "capacity_l": 5},
         "ingredients": [{"what": text, "category": "honey", "kg": 1.3, text: text}], "from_batch": text},
        {"kind": "read", "gravity": {"value": 1.09, "instrument": text, "sample_c": 20}, "place": text, "must_c": 21},
        {"kind": "pitched", "yeast": {"label": text, "class": "ale"}, text: text},
        {"kind": "added", "what": text, "g": 3}, {"kind": "removed", "what": text},
        {"kind": "seen", "smell": [text], "signs": [text], "surface": "fuzzy"},
        {"kind": "swirled", "how": text}, {"kind": "cleaned", "how": text},
        {"kind": "read", "gravity": {"value": 1.06, "instrument": text, "sample_c": 20}, "probe": text, "n": 3},
        {"kind": "moved", "place": text, "light": "lit", "air_c": 24},
        {"kind": "closed", "closure": "tight-cap", "liquid": text, "fit": text},
        {"kind": "probed", "probe": text, "state": "lost", "place": text, "why": text},
        {"kind": "tasted", "look": text, "nose": text, "palate": text, "balance": text},
        {"kind": "hushed", "rule": text, "until": (now + timedelta(days=9)).isoformat(), "why": text},
        {"kind": text or "none", text or "none": text},
        {"kind": "amended", "target": text, "set": {text: text}}, {"kind": "withdrew", "target": text, "why": text},
        {"kind": "racked", "vessel": {"kind": text, "capacity_l": 5}, text: [text]},
    ]  # fmt: skip
    if number % 3 == 0:
        story.append({"kind": "bottled", "lots": [lot], "priming": {"what": text, "g": 30}, "style": "sparkling"})
    for step, keys in enumerate(story):
        keys |= {"batch": text, "at": (start + timedelta(hours=6 * step)).isoformat()}
    return [*story, {"kind": "instrument", "name": text, "what": "hydrometer", "at": start.isoformat(), text: text}]
