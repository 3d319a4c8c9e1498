"""The reader of stories: plain text that tells what happened to a batch, day by day, and what should be said of it.

    fires: a tight cap on the third day
        day 0         mixed 4.5l jug 5l honey 1.5kg
        day 0 09:10   pitched ale
        day 3 20:00   read 1.080 20C
        day 4         closed tight-cap
        now day 4 12:00
        ! danger: day 0 pitched, day 4 closed
        ? closure liquid

A section starts with `fires:`, `quiet:`, `missing:` or `noise:` and a title. `day N [HH:MM]` counts from
1 March 2026, 09:00 UTC unless said. `! severity: evidence` expects a finding of the story's rule resting at least
on those events (or `!` alone is none); `? words` expects these words in its missing facts; `"words"` expects them
somewhere in what it says. Words after the kind are the kind's own short forms below, or `key=value` with dotted
keys and JSON values. `cellar RULE.KEY=VALUE` sets a threshold, `place NAME=M3` the size of a room, `probe NAME=jug` or
`probe NAME=PLACE` what a probe watches.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, get_args

from mustwatch.cellar.batch import Batch
from mustwatch.cellar.fold import Cellar, fold
from mustwatch.judgement.state import judge
from mustwatch.ledger.drafts import draft, stamped
from mustwatch.ledger.events import Closure, Event
from mustwatch.ledger.settings import Settings
from mustwatch.rules.engine import judge_cellar
from mustwatch.rules.finding import Finding
from mustwatch.rules.page import with_why
from mustwatch.rules.view import View

STORIES = Path(__file__).parent / "stories"
DAY_ZERO = datetime(2026, 3, 1, tzinfo=UTC)
KINDS_OF_STORY = ("fires", "quiet", "missing", "noise")
CATEGORIES = {
    "honey", "sugar", "juice", "fruit", "water", "nutrient", "oak", "spice", "acid", "carbonate", "sulfite",
    "sorbate", "fining", "tannin", "yeast",
}  # fmt: skip
CLOSURES = set(get_args(Closure))
BOTTLES = {"still-wine", "beer", "sparkling", "swing-top", "pet", "other"}
WHEN = re.compile(r"day\s+(-?\d+)(?:\s+(\d\d):(\d\d))?")
AMOUNT = re.compile(r"(-?[\d.]+)(kg|g|l|ml)")


@dataclass(slots=True)
class Story:
    """One story: its events, when it is looked at, and what is expected of its rule."""

    rule: str
    sort: str
    title: str
    lines: list[str] = field(default_factory=list)
    events: list[Event] = field(default_factory=list)
    now: datetime | None = None
    expected: list[tuple[str, tuple[str, ...]]] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    thresholds: dict[str, dict[str, float]] = field(default_factory=dict)
    places: dict[str, float] = field(default_factory=dict)
    probes: dict[str, dict[str, str]] = field(default_factory=dict)

    @property
    def at(self) -> datetime:
        """When the story is looked at: its `now`, else its last event."""
        return self.now or max(event.at for event in self.events)

    def view(self, now: datetime | None = None, batch: str = "jug") -> View:
        """The story's batch as a rule sees it at a time."""
        return self.views(now)[batch]

    def views(self, now: datetime | None = None) -> dict[str, View]:
        """All batches of the story at a time."""
        now = now or self.at
        settings = Settings(thresholds=self.thresholds, places=self.places, feeds={"probes": self.probes})
        cellar = fold([event for event in self.events if event.at <= now], settings, now)
        return {
            tag: View(batch, judge(batch, settings, now), settings, now, notes=cellar.notes)
            for tag, batch in cellar.batches.items()
        }

    def found(self, module: Any, now: datetime | None = None) -> list[Finding]:
        """What a rule says of the story at a time."""
        stages = module.RULE.stages
        views = [v for v in self.views(now).values() if {v.batch.stage, v.batch.vessel_stage} & stages]
        own = [finding for view in views for finding in module.check(view)] if hasattr(module, "check") else []
        return with_why(module, own + (list(module.check_cellar(views)) if hasattr(module, "check_cellar") else []))

    def times(self) -> list[datetime]:
        """Every moment at which something happened, then the story's end."""
        return sorted({event.at for event in self.events} | {self.at})


def stories_of(rule: str) -> list[Story]:
    """The stories of a rule, from its file; none when it has no file."""
    path = STORIES / f"{rule}.txt"
    return read_stories(rule, path.read_text("utf-8")) if path.exists() else []


def read_stories(rule: str, text: str) -> list[Story]:
    """The stories of a text. Raises ValueError naming the line that cannot be read."""
    stories: list[Story] = []
    for number, line in enumerate(text.splitlines(), 1):
        sort, _, title = line.partition(":")
        if sort in KINDS_OF_STORY:
            stories.append(Story(rule, sort, title.strip()))
        elif line.startswith((" ", "\t")) and line.strip() and stories:
            stories[-1].lines.append(line.strip())
            try:
                _read_line(stories[-1], line.strip())
            except (ValueError, IndexError, KeyError) as error:
                raise ValueError(f"{rule}, line {number}: {line.strip()!r}: {error}") from error
    return stories


def story(text: str, rule: str = "") -> Story:
    """One story without its heading line, for tests that build their own."""
    return read_stories(rule, "fires: untitled\n" + text)[0]


def _read_line(story: Story, line: str) -> None:
    if line.startswith("!"):
        severity, _, evidence = line[1:].partition(":")
        story.expected.append((severity.strip(), tuple(part.strip() for part in evidence.split(",") if part.strip())))
    elif line.startswith("?"):
        story.missing.append(line[1:].strip())
    elif line.startswith('"'):
        story.words.append(line.strip('"'))
    elif line.startswith("now "):
        story.now = _when(line[4:])[0]
    elif line.startswith("place "):
        key, _, value = line[6:].partition("=")
        story.places[key] = float(value)
    elif line.startswith("probe "):
        key, _, value = line[6:].partition("=")
        story.probes[key] = {"batch": "jug"} if value == "jug" else {"place": value}
    elif line.startswith("cellar "):
        key, _, value = line[7:].partition("=")
        rule, _, name = key.partition(".")
        story.thresholds.setdefault(rule, {})[name] = float(value)
    else:
        story.events.append(_event(story, line))


def _when(text: str) -> tuple[datetime, str]:
    found = WHEN.match(text)
    if not found:
        raise ValueError("should begin with: day N")
    day, hour, minute = int(found[1]), int(found[2] or 9), int(found[3] or 0)
    return DAY_ZERO + timedelta(days=day, hours=hour, minutes=minute), text[found.end() :].strip()


def _event(story: Story, line: str) -> Event:
    at, rest = _when(line)
    kind, *words = re.findall(r'[^\s"]*"[^"]*"|\S+', rest)
    batch: str | None = "jug"
    if kind.startswith("@"):
        batch, kind, words = kind[1:], words[0], words[1:]
    if batch == "cellar":
        batch = None
    keys: dict[str, Any] = {}
    for word in words:
        _put_word(kind, keys, word)
    event = draft(kind, at, batch, **keys)
    name = f"day {WHEN.match(line)[1]} {kind}"
    # The second event of one name gets a number: evidence is named by what the story says.
    same = sum(other.id.split(" #")[0] == name for other in story.events)
    return stamped(event, f"{name} #{same + 1}" if same else name, len(story.events) + 1)


def _put_word(kind: str, keys: dict[str, Any], word: str) -> None:
    if re.match(r"[\w.]+=", word):
        path, _, value = word.partition("=")
        _put(keys, path.split("."), [value] if path == "harmless" else _value(value))
    elif word.startswith('"'):
        keys["note"] = word.strip('"')
    else:
        SHORT_FORMS[kind](keys, word)


def _put(keys: dict[str, Any], path: list[str], value: Any) -> None:
    for part in path[:-1]:
        keys = keys.setdefault(part, {})
    keys[path[-1]] = value


def _value(text: str) -> Any:
    text = text.strip('"')
    if text.startswith("day"):
        return _when(text.replace("day", "day ").replace("  ", " "))[0]
    try:
        return json.loads(text)
    except ValueError:
        return text


def _mixed(keys: dict[str, Any], word: str) -> None:
    amount = AMOUNT.fullmatch(word)
    vessel = keys.get("vessel")
    if amount and keys.get("ingredients") and "kg" not in keys["ingredients"][-1]:
        keys["ingredients"][-1]["kg" if amount[2] == "kg" else "l"] = float(amount[1])
    elif amount and vessel is not None and "capacity_l" not in vessel:
        vessel["capacity_l"] = float(amount[1])
    elif amount:
        keys["volume_l"] = float(amount[1])
    elif word in CATEGORIES:
        keys.setdefault("ingredients", []).append({"what": word, "category": word})
    else:
        keys["vessel"] = {"kind": word}


def _pitched(keys: dict[str, Any], word: str) -> None:
    if word.endswith("C"):
        keys["must_c"] = float(word[:-1])
    elif word.endswith("%"):
        keys["yeast"]["tolerance_abv"] = float(word[:-1])
    else:
        keys["yeast"] = {"class": word}


def _read(keys: dict[str, Any], word: str) -> None:
    if word.startswith("pH"):
        keys["ph"] = float(word[2:])
    elif word.startswith("must") and word.endswith("C"):
        keys["must_c"] = float(word[4:-1])
    elif word.endswith("C"):
        keys.setdefault("gravity", {})["sample_c"] = float(word[:-1])
    elif word.endswith("Bx"):
        keys["gravity"] = {"value": float(word[:-2]), "scale": "brix"}
    elif word == "untempered":
        keys["gravity"].pop("sample_c", None)
    else:
        keys["gravity"] = {"value": float(word), "scale": "sg", "sample_c": 20}


def _added(keys: dict[str, Any], word: str) -> None:
    amount = AMOUNT.fullmatch(word)
    if amount:
        factor = {"kg": 1000, "g": 1, "l": 1, "ml": 0.001}[amount[2]]
        keys["g" if "g" in amount[2] else "l"] = float(amount[1]) * factor
    else:
        keys["what"] = word
        keys["category"] = word if word in CATEGORIES else keys.get("category", "other")


def _racked(keys: dict[str, Any], word: str) -> None:
    amount = AMOUNT.fullmatch(word)
    if not amount:
        keys["vessel"] = {"kind": word}
    elif "vessel" in keys:
        keys["vessel"]["capacity_l"] = float(amount[1])
    else:
        keys["volume_l"] = float(amount[1])


def _bottled(keys: dict[str, Any], word: str) -> None:
    count = re.fullmatch(r"(\d+)x(\d+)", word)
    if count:
        keys.setdefault("lots", []).append({"count": int(count[1]), "size_ml": int(count[2])})
    elif word in BOTTLES and "bottle" not in keys["lots"][-1]:
        keys["lots"][-1]["bottle"] = word
    elif word in {"still", "sparkling"}:
        keys["style"] = word
    elif word.startswith("priming"):
        keys["priming"] = {"what": "sugar", "g": float(word.removeprefix("priming").removesuffix("g"))}
    else:
        keys["lots"][-1]["closure"] = word


def _poured_back(keys: dict[str, Any], word: str) -> None:
    count = re.fullmatch(r"(\d+|all)x(\d+)", word)
    amount = AMOUNT.fullmatch(word)
    if count:
        lot = {"size_ml": int(count[2])} | ({} if count[1] == "all" else {"count": int(count[1])})
        keys.setdefault("lots", []).append(lot)
    elif amount:
        keys["vessel"]["capacity_l"] = float(amount[1])
    elif word in CLOSURES:
        keys["closure"] = word
    else:
        keys["vessel"] = {"kind": word}


def _heated(keys: dict[str, Any], word: str) -> None:
    if word.endswith("min"):
        keys["minutes"] = float(word[:-3])
    elif word.endswith("C"):
        keys["c"] = float(word[:-1])
    else:
        keys["what"] = word


def _seen(keys: dict[str, Any], word: str) -> None:
    for key, words in (
        ("airlock", {"bubbling", "still", "dry", "foamed"}),
        ("surface", {"clean", "foam", "ring", "rafts", "film", "fuzzy", "coloured"}),
        ("clarity", {"murky", "hazy", "clear"}),
    ):
        if word in words:
            keys[key] = word
            return
    if word.startswith("smell:"):
        keys.setdefault("smell", []).append(word.removeprefix("smell:").strip('"'))
        return
    keys.setdefault("signs", []).append("all well" if word == "all-well" else word)


def _named(key: str):
    def put(keys: dict[str, Any], word: str) -> None:
        keys[key] = word

    return put


def _took(keys: dict[str, Any], word: str) -> None:
    keys["count" if word.isdigit() else "why"] = int(word) if word.isdigit() else word


SHORT_FORMS = {
    "mixed": _mixed, "pitched": _pitched, "read": _read, "added": _added, "racked": _racked, "bottled": _bottled,
    "seen": _seen, "took": _took, "closed": _named("closure"), "moved": _named("place"), "removed": _named("what"),
    "swirled": _named("how"), "aerated": _named("how"), "cap_pushed": _named("how"), "cleaned": _named("how"),
    "poured_back": _poured_back, "heated": _heated, "hushed": _named("rule"), "ended": _named("outcome"),
}  # fmt: skip


def batch_of(text: str) -> Batch:
    """The batch of an untitled story, at its end."""
    return story(text).view().batch


def judge_batch(view: View) -> tuple[Finding, ...]:
    """The findings in a cellar that holds this batch alone."""
    return judge_cellar(Cellar(view.now, view.settings, {view.batch.tag: view.batch}, tuple(view.notes)), view.now)
