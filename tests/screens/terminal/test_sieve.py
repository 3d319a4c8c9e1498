"""Only keys, whole sequences and pastes get through; whatever else a terminal sends is dropped and holds up nothing."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mustwatch.screens.terminal.driver import KNOWN, NUMBERED, Reader
from mustwatch.screens.terminal.sieve import (
    ESCAPE,
    ESCAPE_WAIT,
    LONGEST,
    LONGEST_HELD,
    LONGEST_PASTE,
    PASTE_WAIT,
    REST_WAIT,
    STRING_LASTS,
    TOGETHER,
    Pasted,
    Sieve,
)

UP = "\x1b[A"
NO_KEYS = {
    "no UTF-8": b"\xff\xfe\x80\xc0\xaf\xed\xa0\x80\xf5\x80\x80\x80",
    "a letter cut short": b"\xe2\x82",
    "a letter of another encoding": b"\xe9",
    "the old mouse report": b"\x1b[M !!",
    "the old mouse report, far out": b"\x1b[M \xff\xff",
    "the old mouse report over a letter": b"\x1b[MlCl",
    "a mouse report of decimals": b"\x1b[32;10;5M",
    "a number that is no character": b"\x1b[1114112u",
    "half a pair": b"\x1b[55296u",
    "half a pair as text": b"\x1b[97;1;57343u",
    "a number that names no key": b"\x1b[108~",
    "a number that names no arrow": b"\x1b[108A",
    "a key let go": b"\x1b[97;1:3u",
    "other spellings of a key": b"\x1b[97:65;1u",
    "huge numbers": b"\x1b[" + b"9" * 5000 + b"u",
    "too many numbers": b"\x1b[" + b"1;" * 60 + b"u",
    "a window of no pixels": b"\x1b[48;24;80;0;0t",
    "a window of no cells": b"\x1b[48;0;0;0;0t",
    "a window beyond all sizes": b"\x1b[48;99999999;99999999;1;1t",
    "a report nobody asked for": b"\x1b[?62;22c\x1b[>41;377;0c\x1b[3;1;1t\x1b[0n",
    "windows told in the stream": b"\x1b[?2048;1$y",
    "eight-bit sequences": "\u009b108~\u009d0;title\u009c".encode(),
    "a title": b"\x1b]0;lspa\x07\x1b]lll\x1b\\",
    "a device's answer": b"\x1bP1$r0m\x1b\\\x1b_Gi=1;OK\x1b\\\x1b^private\x1b\\\x1bXstring\x1b\\",
    "a sequence within another": b"\x1b[1;\x1b]2;x\x07",
    "a combination that means nothing": b"\x1bl\x1bs",
    "the end of a paste that never began": b"\x1b[201~",
}


def sifted(*parts: bytes | tuple[float, bytes]) -> list:
    """What comes out; a part with a number is sent so many seconds after the one before."""
    sieve, at, found = Sieve(KNOWN, NUMBERED), 0.0, []
    for part in parts:
        later, data = part if isinstance(part, tuple) else (0.0, part)
        for _ in range(int(later * 100)):
            at += 0.01
            found += sieve.rest(at)
        found += sieve.feed(data, at)
    return found + sieve.rest(at + 10)


@pytest.mark.parametrize("data", NO_KEYS.values(), ids=NO_KEYS)
def test_what_is_no_key_is_dropped_and_the_next_key_is_not(data):
    """None of it ends the round, acts as a letter or swallows what is typed after it."""
    known = [token for token in sifted(data, (REST_WAIT + 0.1, b"j")) if token != "\x1b[201~"]
    assert known == ["j"]


def test_keys_get_through():
    """What keyboards send, one token each."""
    keys = ["j", "é", "漢", "\t", "\r", "\x7f", "\x01", UP, "\x1bOA", "\x1b[3~", "\x1b[1;5D", "\x1b[[A", "\x1b[3$",
            "\x1bb", "\x1b[27u", "\x1b[97;5u", "\x1b[0;;233u", "\x1b[<0;5;5M", "\x1b[<35;120;40m", "\x1b[I", "\x1b[O",
            "\x1b[?2026;2$y"]  # fmt: skip
    for key in keys:
        assert sifted(key.encode()) == [key], repr(key)
    assert sifted("".join(keys).encode()) == keys


@pytest.mark.parametrize("place", range(1, 6))
def test_a_sequence_cut_in_two_is_one_key(place):
    """A slow line parts bytes anywhere; what comes within the wait belongs together."""
    whole = b"\x1b[1;5D"
    assert sifted(whole[:place], (ESCAPE_WAIT - 0.02, whole[place:])) == ["\x1b[1;5D"]
    assert sifted(*((0.25, bytes([byte])) for byte in whole)) == ["\x1b[1;5D"]


CUT = {"arrow": b"\x1b[A", "other arrow": b"\x1bOA", "word": b"\x1b[1;5D", "control": b"\x1b[97;5u",
       "mouse": b"\x1b[<0;5;5M", "paste": b"\x1b[200~l\x1b[201~"}  # fmt: skip


@pytest.mark.parametrize("whole", CUT.values(), ids=CUT)
@pytest.mark.parametrize("later", [ESCAPE_WAIT + 0.02, 1.0, ESCAPE_WAIT + 1.9])
def test_the_tail_of_a_sequence_that_comes_late_is_no_letters(whole, later):
    """The escape was taken for the key: what follows must not write to the ledger."""
    assert sifted(whole[:1], (later, whole[1:]), b"j") == [ESCAPE, "j"]


def test_escape_is_a_key_at_once_when_another_key_follows():
    """Nobody has to wait after it: only what may begin a sequence is waited for."""
    assert sifted(b"\x1b", (TOGETHER + 0.02, b"j")) == [ESCAPE, "j"]
    assert sifted(b"\x1b", (0.1, b"\x1b"), (0.1, b"q")) == [ESCAPE, ESCAPE, "q"]
    assert sifted(b"\x1b\x1b[A") == [ESCAPE, UP]


def test_a_lone_escape_is_told_after_its_wait_and_not_before():
    """Both sides of the limit."""
    sieve = Sieve(KNOWN)
    assert sieve.feed(b"\x1b", 1.0) == [] and sieve.is_waiting
    assert sieve.rest(1.0 + ESCAPE_WAIT - 0.001) == []
    assert sieve.rest(1.0 + ESCAPE_WAIT + 0.001) == [ESCAPE] and not sieve.is_waiting


def test_a_paste_comes_whole_however_it_is_cut():
    """Nothing in it is a key, an escape neither."""
    text = "two\nlines \x1b[A é 漢"
    data = b"\x1b[200~" + text.encode() + b"\x1b[201~"
    assert sifted(data, b"j") == [Pasted(text), "j"]
    assert sifted(*((0.01, bytes([byte])) for byte in data)) == [Pasted(text)]


def test_a_paste_that_is_never_closed_ends_by_itself():
    """What came is kept, and the keys afterwards are keys."""
    assert sifted(b"\x1b[200~abc", (PASTE_WAIT + 0.1, b"j")) == [Pasted("abc"), "j"]


def test_a_string_that_is_never_closed_takes_no_more_keys_than_it_must():
    """However fast one types on, a few seconds later keys are keys again."""
    keys = sifted(b"\x1b]52;c;", *((0.5, b"j") for _ in range(10)))
    assert keys == ["j"] * (10 - int(STRING_LASTS / 0.5))
    assert sifted(b"\x1b]52;c;\r", b"j") == ["\r", "j"]


def test_what_does_not_end_takes_no_memory():
    """A hundred times what is kept, and what comes after it is still found."""
    sieve = Sieve(KNOWN)
    for head, most in ((b"\x1b[", LONGEST_HELD), (b"\x1b]", LONGEST_HELD), (b"\x1b[200~", LONGEST_PASTE)):
        sieve.feed(head, 0.0)
        for _ in range(100):
            sieve.feed(b"9" * (most // 10), 0.0)
        assert len(sieve._held) <= most
        sieve.rest(100.0)
    sieve.feed(b"\x1b[200~" + b"9" * LONGEST_PASTE * 2 + b"\x1b[20", 0.0)
    assert [type(one) for one in sieve.feed(b"1~j", 0.0)] == [Pasted, str]


@given(st.lists(st.tuples(st.binary(max_size=12), st.sampled_from([0.0, 0.06, 0.4, 5.0])), max_size=12))
def test_no_bytes_break_the_sieve_or_the_reader_behind_it(parts):
    """Whatever comes, in whatever pieces: each token means something or nothing, and a key afterwards is a key."""
    reader = Reader()
    tokens = sifted(*((later, data) for data, later in parts), (20.0, b"j"))
    assert tokens[-1] == "j"
    for token in tokens:
        assert isinstance(token, Pasted) or len(token) <= LONGEST
        assert isinstance(reader.messages(token), tuple)
    assert [message.key for message in reader.messages("j")] == ["j"]


def test_no_sequence_of_control_bytes_becomes_a_letter():
    """A letter is an act in the round: it must have been typed as one."""
    dice, reader, letters = random.Random(7), Reader(), set()
    for _ in range(3000):
        body = bytes(dice.choice(b"0123456789;:<=>?!$ ") for _ in range(dice.randrange(8)))
        for token in sifted(b"\x1b[" + body + bytes([dice.choice(b"ABCDHIKLMNRSTYZ`chlmnprstxy{|}~^")]), (9.0, b"")):
            letters |= {message.key for message in reader.messages(token) if hasattr(message, "key")}
    assert not {key for key in letters if len(key) == 1 and key.isprintable()}, letters
