"""Quick entry: one line of what was read, seen and done, as events.

1.042 21C                 gravity and the sample's temperature
10.5Bx  10.5P  1042       other scales; 1,042 is read as 1.042
must 20C  air 17C         temperatures that are not the sample's
pH3.6  ta6.5  so2 30      acid, titratable acid g/L, free SO2 mg/L
12Bx refractometer        what it was read with; by:NAME for one of yours
swirled bubbling ring     what was done, what was seen; the words are:
                          swirled aerated pushed cleaned; airlock bubbling
                          still dry foamed; surface clean foam ring rafts
                          film fuzzy coloured; murky hazy clear
smell:pear  sign:gushing  in words of your own
+5g nutrient  +1lb honey  what was added, with its name
removed fruit             what was taken out
closed airlock            the closure
"smells of pear"          a note, kept word for word; plain words that are
                          no entry are a note without quotes too
@yesterday 21:00          when, if not now; @8:30pm  @3 days ago  @fri
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from mustwatch.cellar.batch import Reading
from mustwatch.cellar.readings import DEFAULT_CALIBRATION_C, NOT_CORRECTED, reading_from
from mustwatch.deeds import add
from mustwatch.deeds.close import sealed_caution
from mustwatch.deeds.deed import note_and_when
from mustwatch.deeds.ground import Ground
from mustwatch.entry.line import Token, gathered, is_prose, tokens_of
from mustwatch.entry.pot import INSTRUMENTS, Pot
from mustwatch.entry.when import moment
from mustwatch.ledger.drafts import draft
from mustwatch.ledger.events import Event, Instrument, Read
from mustwatch.said.figures import degrees
from mustwatch.said.telling import told

NOTHING = "nothing to save yet: write a gravity such as 1.042, a word such as swirled, or a note in quotes"


class Entry(NamedTuple):
    """What a line means.

    events: drafts to be saved; understood: the same in words; questions: what must be settled first.
    With a question open nothing may be saved, though `understood` still tells the rest.
    """

    events: tuple[Event, ...] = ()
    understood: tuple[str, ...] = ()
    questions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Whether the one thing amiss is that nothing is there to be saved."""
        return self.questions == (NOTHING,)


def parse_words(words: Sequence[str], ground: Ground) -> Entry:
    """The entry of command-line words. A word with blanks inside was quoted in the shell: it is a note, unless
    it is an entry of its own. Never raises."""
    tokens: list[Token] = []
    for word in words:
        if word.lower().startswith(("smell:", "sign:")):
            tokens.append(Token(word, False, word))
            continue
        tokens += [Token(word, True, word)] if is_prose(word, len(words), ground.settings) else tokens_of(word)
    return _entry(tokens, ground)


def parse_entry(text: str, ground: Ground) -> Entry:
    """The entry of one line; never raises. `ground.now` gives the time, its offset and what today means."""
    return _entry(tokens_of(text), ground)


def _entry(tokens: Sequence[Token], ground: Ground) -> Entry:
    pot = gathered(tokens, ground.settings)
    questions = list(pot.questions)
    try:
        at = moment(pot.when, ground.now)
    except ValueError as error:
        questions.append(str(error))
        at = ground.now
    _settle_temperatures(pot, questions)
    if "sample_c" in pot.gravity and "value" not in pot.gravity:
        questions.append("a sample temperature without a gravity: add the gravity, or write must 20C")
    questions += _instrument_questions(pot, ground.cellar.instruments)
    events = _drafts(pot, ground.tag, at, questions)
    lines = _understood(events, ground)
    if not events and not questions:
        questions.append(NOTHING)
    return Entry(() if questions else tuple(events), tuple(lines), tuple(questions), _cautions(pot))


def _cautions(pot: Pot) -> tuple[str, ...]:
    """What can hurt in what is entered."""
    of_additions = [caution for keys in pot.added for caution in add.cautions(keys)]
    return tuple(dict.fromkeys([*sealed_caution({"closure": pot.closure}), *of_additions]))


def _instrument_questions(pot: Pot, instruments: Mapping[str, Instrument]) -> list[str]:
    name = pot.gravity.get("instrument")
    if name is None:
        return []
    if "value" not in pot.gravity:
        return [f"{name}: and what did it read? Write it like 12Bx {INSTRUMENTS[0]}"]
    if name not in instruments and name not in INSTRUMENTS:
        known = ", ".join(instruments) or "none yet"
        return [f"by:{name}: no instrument of this name, there is: {known}; `mustwatch instrument` records one"]
    return []


def _settle_temperatures(pot: Pot, questions: list[str]) -> None:
    """A bare temperature beside a gravity is the sample's, a second one the must's; alone it is the must's."""
    slots = ["must_c"]
    if "value" in pot.gravity and "sample_c" not in pot.gravity:
        slots = ["sample_c", "must_c"]
    for celsius in pot.bare_c:
        slot = slots.pop(0) if slots else None
        if slot is None or (slot == "must_c" and "must_c" in pot.read):
            questions.append("more temperatures than places for them: write sample 21C must 20C air 18C")
            return
        (pot.gravity if slot == "sample_c" else pot.read)[slot] = celsius


def _drafts(pot: Pot, tag: str | None, at: datetime, questions: list[str]) -> list[Event]:
    wanted: list[tuple[str, dict[str, Any]]] = []
    if "value" in pot.gravity:
        pot.read["gravity"] = pot.gravity
    if pot.read:
        wanted.append(("read", pot.read))
    if pot.seen:
        wanted.append(("seen", pot.seen))
    wanted += [(kind, {}) for kind in dict.fromkeys(pot.done)]
    wanted += [("added", keys) for keys in pot.added]
    wanted += [("removed", {"what": what}) for what in pot.removed]
    if pot.closure:
        wanted.append(("closed", {"closure": pot.closure}))
    note = " ".join(pot.notes) or None
    if note and not wanted:
        wanted.append(("noted", {}))
    typed = " ".join(pot.typed) or None
    try:
        return [
            draft(kind, at, tag, **keys, **({"note": note, "typed": typed} if place == 0 else {}))
            for place, (kind, keys) in enumerate(wanted)
        ]
    except ValueError as error:
        questions.append(str(error))
        return []


def _understood(events: Sequence[Event], ground: Ground) -> list[str]:
    lines = []
    for event in events:
        glasses, settings = ground.cellar.instruments, ground.settings
        reading = reading_from(event, glasses, settings, None) if isinstance(event, Read) else None
        lines += [] if event.kind == "noted" else [told(event, settings, ground.now, reading)]
        lines += _glass_words(reading, ground) if reading else []
    return lines + (note_and_when(events[0], ground.now) if events else [])


def _glass_words(reading: Reading, ground: Ground) -> list[str]:
    """What a hydrometer's reading was corrected for; nothing where it was not."""
    celsius = reading.sample_c if reading.sample_c is not None else reading.must_c
    if reading.scale != "sg" or celsius is None or any(one.startswith(NOT_CORRECTED) for one in reading.remarks):
        return []
    own = ground.cellar.instruments.get(reading.instrument or "")
    stated = (own.calibration_c if own else None) or ground.settings.hydrometer_c
    made_for = degrees(stated or DEFAULT_CALIBRATION_C, ground.settings) + ("" if stated else ", assumed")
    offset = f", {own.name} {own.offset:+.4g}" if own and own.offset else ""
    return [f"hydrometer made for {made_for}{offset}"]
