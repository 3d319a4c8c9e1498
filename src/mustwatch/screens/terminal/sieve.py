"""What a terminal sends, parted into keys, whole control sequences and pastes; what is none of them is dropped.

A terminal that is asked for nothing else sends keys, mouse reports and pastes. A broken line, another
encoding or a program that writes to the terminal sends anything: cut characters, huge numbers, strings that
never end. None of it may reach the reader of keys, which would end, wait for ever or take it for letters.
"""

import re
from collections.abc import Set
from dataclasses import dataclass

ESC = b"\x1b"
ESCAPE = "\x1b"  # the key, told by itself and never as the head of a sequence
PASTE, PASTED = b"\x1b[200~", b"\x1b[201~"
LONGEST = 32  # bytes; the reader of keys takes a longer sequence for letters
LONGEST_HELD = 4096  # bytes of a sequence that does not end
LONGEST_PASTE = 65_536  # bytes; no field takes as much
GREATEST = 0x10FFFF
SURROGATES = range(0xD800, 0xE000)

# Seconds. A lone escape may be a key or the head of one cut in two by a slow line; what follows it within
# `TOGETHER` was sent with it. The tail of a sequence whose head was already taken for the key is no letters.
TOGETHER = 0.05
ESCAPE_WAIT = 0.3
LATE = 2.0
REST_WAIT = 2.0
PASTE_WAIT = 3.0
STRING_LASTS = 3.0

CSI = re.compile(rb"\x1b\[(?:\[[A-E]|[ -?]*[@-~])")
CSI_BEGUN = re.compile(rb"\x1b\[(?:\[|[ -?]*)\Z")
CSI_BROKEN = re.compile(rb"\x1b\[[ -?]*")
CSI_DOLLAR = re.compile(rb"\x1b\[\d+\$(?=\x1b|\Z)")  # some terminals end keys with a sign that goes on in all others
STRING = re.compile(rb"\x1b[\]PX^_][^\x00-\x1f]*(?:\x07|\x1b\\)")
STRING_BEGUN = re.compile(rb"\x1b[\]PX^_][^\x00-\x1f]*\x1b?\Z")
STRING_BROKEN = re.compile(rb"\x1b[\]PX^_][^\x00-\x1f]*")
BACKGROUND = re.compile(rb"\x1b\]11;rgb:([0-9a-fA-F]{1,4})/([0-9a-fA-F]{1,4})/([0-9a-fA-F]{1,4})(?:\x07|\x1b\\)")
OLD_MOUSE = b"\x1b[M"
OLD_MOUSE_BYTES = 6
INTRODUCERS = b"[O]PX^_"
LATE_TAIL = re.compile(rb"[\[O]")

MOUSE = re.compile(rb"\x1b\[<\d{1,3};-?\d{1,5};-?\d{1,5}[Mm]")
KEY = re.compile(rb"\x1b\[\d*(?:;\d*(?:;[\d:]*)?)?u")
NUMBERED_KEY = re.compile(rb"\x1b\[(\d*)(?:;\d*)?([~ABCDEFHPQRS])")
WHOLE_NUMBER = re.compile(rb"\d+")
# That it draws whole frames at once is all that a terminal is asked: window sizes come by signal.
REPORTS = frozenset({b"\x1b[I", b"\x1b[O", *(b"\x1b[?2026;%d$y" % state for state in range(5))})


@dataclass(frozen=True, slots=True)
class Pasted:
    """A text that was pasted, as it came."""

    text: str


@dataclass(frozen=True, slots=True)
class Background:
    """The colour of the terminal's background, as it answers when it is asked; each part 0 to 1."""

    red: float
    green: float
    blue: float


Token = str | Pasted | Background


class Sieve:
    """Takes bytes as they come and the time, in seconds of any clock; answers with what they mean.

    known: the sequences that are keys; numbered: the number and last sign of those that may also name the keys held
    with them, as 1A. A token is one character, one whole sequence, `ESCAPE` or a paste.
    """

    def __init__(self, known: Set[bytes] = frozenset(), numbered: Set[bytes] = frozenset()) -> None:
        self._known, self._numbered = known, numbered
        self._held = b""
        self._began = self._last = 0.0
        self._late_until = float("-inf")
        self._is_late = False

    @property
    def is_waiting(self) -> bool:
        """Whether something has begun that the next bytes may end."""
        return bool(self._held)

    def feed(self, data: bytes, at: float) -> list[Token]:
        """What these bytes, come at that time, end or mean by themselves."""
        found: list[Token] = self.rest(at)
        if self._held == ESC and at - self._last > TOGETHER and data[:1] not in INTRODUCERS:
            self._held = b""
            found.append(ESCAPE)
        elif not self._held and at < self._late_until and LATE_TAIL.match(data):
            data, self._is_late = ESC + data, True
        self._late_until = float("-inf")
        if not self._held:
            self._began = at
        self._last = at
        return found + self._parted(self._held + data, at)

    def rest(self, at: float) -> list[Token]:
        """What is given up when nothing has come until then."""
        held, silent = self._held, at - self._last
        if not held or silent < self._patience() and not (self._is_string() and at - self._began > STRING_LASTS):
            return []
        self._held, self._is_late = b"", False
        if held == ESC:
            self._late_until = at + LATE
            return [ESCAPE]
        return [_paste(held[len(PASTE) :])] if held.startswith(PASTE) else []

    def _patience(self) -> float:
        if self._held == ESC:
            return ESCAPE_WAIT
        return PASTE_WAIT if self._held.startswith(PASTE) else REST_WAIT

    def _is_string(self) -> bool:
        return bool(STRING_BEGUN.match(self._held))

    def _parted(self, data: bytes, at: float) -> list[Token]:
        found: list[Token] = []
        while data := _as_seven_bits(data):
            token, length = self._taken(data)
            if not length:
                break
            if token and not self._is_late:
                found.append(token)
            self._is_late = False
            data = data[length:]
            self._began = at
        self._held = _shortened(data)
        return found

    def _taken(self, data: bytes) -> tuple[Token | None, int]:
        """The token that the data begins with, None where it is dropped, and its length; 0 while it is not whole."""
        if not data.startswith(ESC):
            return _character(data)
        if data.startswith(PASTE):
            return _pasted(data)
        if data.startswith(OLD_MOUSE):
            return None, OLD_MOUSE_BYTES if len(data) >= OLD_MOUSE_BYTES else 0
        if (found := CSI_DOLLAR.match(data)) and found[0] in self._known:
            return found[0].decode("ascii"), len(found[0])
        if data in (ESC, b"\x1bO") or CSI_BEGUN.match(data) or STRING_BEGUN.match(data):
            return None, 0
        if found := CSI.match(data):
            return self._sane(found[0]), len(found[0])
        if told := BACKGROUND.match(data):
            return _background(told[1], told[2], told[3]), len(told[0])
        if broken := STRING.match(data) or CSI_BROKEN.match(data) or STRING_BROKEN.match(data):
            return None, len(broken[0])
        return self._short(data)

    def _short(self, data: bytes) -> tuple[Token | None, int]:
        """Escape with what was sent together with it: a key of that name, or a combination that means nothing here."""
        if data[1:2] == ESC:
            return ESCAPE, 1
        if data[1:2] == b"O":
            return self._sane(data[:3]), 3
        _, length = _character(data[1:])
        taken = data[: 1 + length]
        return (taken.decode("utf-8") if taken in self._known else None), (1 + length if length else 0)

    def _sane(self, sequence: bytes) -> str | None:
        if sequence in self._known or sequence in REPORTS or MOUSE.fullmatch(sequence):
            return sequence.decode("ascii")
        # Any other number before the last sign would be taken for the character of that number.
        key = NUMBERED_KEY.fullmatch(sequence)
        named = (key[1] or b"1") + key[2] in self._numbered if key else KEY.fullmatch(sequence)
        if not named or len(sequence) > LONGEST:
            return None
        numbers = map(int, WHOLE_NUMBER.findall(sequence))
        return sequence.decode("ascii") if all(map(_is_character, numbers)) else None


def _background(*parts: bytes) -> Background:
    return Background(*(int(part, 16) / (16 ** len(part) - 1) for part in parts))


def _is_character(number: int) -> bool:
    return number <= GREATEST and number not in SURROGATES


def _shortened(held: bytes) -> bytes:
    """What is held, without what no token needs; its last bytes may begin the end of a paste."""
    if held.startswith(PASTE):
        return held if len(held) <= LONGEST_PASTE else held[: LONGEST_PASTE - len(PASTED)] + held[-len(PASTED) :]
    return held[:LONGEST_HELD]


def _as_seven_bits(data: bytes) -> bytes:
    """The data, led by the two-byte spelling of an eight-bit control where it begins with one."""
    if data[:1] == b"\xc2" and b"\x80" <= data[1:2] <= b"\x9f":
        return ESC + bytes([data[1] - 0x40]) + data[2:]
    return data


def _character(data: bytes) -> tuple[str | None, int]:
    """The character that the data begins with; a byte that begins none is dropped."""
    first = data[0] if data else 0
    if first < 0x80:
        return (chr(first), 1) if data else (None, 0)
    size = 2 if 0xC2 <= first <= 0xDF else 3 if 0xE0 <= first <= 0xEF else 4 if 0xF0 <= first <= 0xF4 else 1
    try:
        return data[:size].decode("utf-8"), size
    except UnicodeDecodeError as error:
        is_cut = error.reason == "unexpected end of data" and len(data) < size
        return (None, 0) if is_cut else (None, 1)


def _pasted(data: bytes) -> tuple[Token | None, int]:
    end = data.find(PASTED)
    if end >= 0:
        return _paste(data[len(PASTE) : end]), end + len(PASTED)
    return None, 0


def _paste(data: bytes) -> Pasted:
    return Pasted(data.decode("utf-8", "ignore"))
