"""Strings that act on terminals, and what none of them may leave among the bytes a terminal gets."""

import json
import re
import unicodedata
from pathlib import Path

STRINGS = {
    row["id"]: row["text"]
    for row in map(json.loads, (Path(__file__).parent / "strings.jsonl").read_text("utf-8").splitlines())
    if "id" in row
}
# One string for each block of signs of a kind: controls, formats, half pairs, private, unassigned, separators.
_UNSEEN: dict[str, list[str]] = {}
for _code in (*range(0x3100), *range(0xD7F0, 0xE010), *range(0xFE00, 0x10000), *range(0xE0000, 0xE0200), 0x10FFFF):
    if unicodedata.category(chr(_code)) in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") and _code:
        _UNSEEN.setdefault(unicodedata.category(chr(_code)), []).append(chr(_code))
KINDS = {
    f"{kind}-{at // 64}": "a" + "b".join(signs[at : at + 64]) + "c"
    for kind, signs in _UNSEEN.items() for at in range(0, min(len(signs), 512), 64)
}  # fmt: skip
FILLERS = "\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0"
SELECTORS = "\ufe00-\ufe0f\U000e0100-\U000e01ef"
OWN = re.compile(rf"[{FILLERS}{SELECTORS}]")
# What the round itself writes: colours, the cursor's place, frames drawn at once, and the question for the background.
DRAWING = re.compile(r"\x1b\]11;\?\x1b\\|\x1b\[[0-9;]*m|\x1b\[[0-9]+;[0-9]+H|\x1b\[\?2026[hl]|\x07")


def texts() -> list[str]:
    """All strings, in a fixed order."""
    return [*STRINGS.values(), *KINDS.values()]


def acting(seen: str) -> list[str]:
    """The signs among what a terminal got that are unseen or could act, each once, by name."""
    found = {sign for sign in set(seen) if unicodedata.category(sign) in _UNSEEN or OWN.match(sign)}
    return sorted(f"{ord(sign):x}" for sign in found)


def decoded(seen: bytes) -> str:
    """What a terminal got, which must be UTF-8."""
    return seen.decode("utf-8", "strict")


def filed(text: str) -> str:
    """The text as a name that a file may have."""
    name = text.replace("/", "\u2215").replace("\0", "")
    spelled = name.encode("utf-8", "surrogateescape" if _bytes(text) else "replace")
    return spelled[:200].decode("utf-8", "surrogateescape").strip(".") or "empty"


def _bytes(text: str) -> bool:
    try:
        text.encode("utf-8", "surrogateescape")
    except UnicodeEncodeError:
        return False
    return True
