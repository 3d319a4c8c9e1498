"""The words of a line of quick entry, one after the other into the pot."""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import get_close_matches

from mustwatch.entry.entry_added import added
from mustwatch.entry.entry_figures import (
    DEGREES,
    MEASURE,
    MEASURED,
    NUMBER,
    UNITS_APART,
    is_figure,
    number,
    plain,
    take_degrees,
    take_gravity,
    take_measure,
)
from mustwatch.entry.entry_pot import (
    DONE,
    INSTRUMENTS,
    MEASURES,
    NEAR,
    SAME_WORD,
    SEEN,
    SEEN_WORDS,
    WHOSE,
    Pot,
)
from mustwatch.entry.quantity import CLOSURES, closure_of, is_amount
from mustwatch.entry.substance import kind_of
from mustwatch.entry.when import CLOCK, DAY_WORDS, takes_clock
from mustwatch.ledger.settings import Settings

_TOKEN = re.compile(r'"([^"]*)"|“([^”]*)”|(\S+)')
_STOPS = ",;."
_LOOK_AHEAD = 10  # words: an amount of five, `of`, a name of four
_WHOSE_DEGREES = re.compile(rf"({'|'.join(WHOSE)})[:=]?(.+)", re.IGNORECASE)
_OWN_HEADS = ("smell:", "sign:", "by:")


def tokens_of(text: str) -> list[tuple[str, bool]]:
    """(word, whether it stood in quotes) of a line; a comma or stop that ends a word is none of it."""
    tokens = []
    for found in _TOKEN.finditer(text):
        quoted = found[3] is None
        word = (found[1] or found[2] or "") if quoted else found[3].rstrip(_STOPS) or found[3]
        tokens.append((word, quoted))
    return tokens


def is_prose(word: str, words: int, settings: Settings) -> bool:
    """Whether one of so many command-line words is a note: blanks inside, and it is no entry of its own.

    A figure in it, or every word understood, makes it an entry; standing alone, one word that is understood does.
    """
    tokens = [token.rstrip(_STOPS) for token in word.split()]
    if len(tokens) < 2 or word.startswith("@") or ('"' in word and words == 1):
        return False
    pairs = zip(tokens, [*tokens[1:], ""], strict=True)
    if any(is_figure(token) or is_figure(token + nearest) for token, nearest in pairs) or _tells_closure(tokens):
        return False
    if words == 1 and any(token.lower() in DONE or token.lower() in SEEN_WORDS for token in tokens):
        return False
    pot = gathered(tokens_of(word), settings)
    return bool(pot.questions or pot.unknown)


def _tells_closure(tokens: Sequence[str]) -> bool:
    closed = [place for place, token in enumerate(tokens) if token.lower() == "closed"]
    return any(closure_of(tokens[place + 1 :])[0] for place in closed)


def _known(token: str) -> bool:
    """Whether a word has a meaning of its own, and so is no part of a name."""
    low = token.lower()
    named = low in DONE or low in SEEN_WORDS or low in SAME_WORD or low in MEASURES or low in INSTRUMENTS
    return named or low in ("closed", "removed", *WHOSE) or low.startswith(_OWN_HEADS) or is_figure(token)


def gathered(tokens: Sequence[tuple[str, bool]], settings: Settings) -> Pot:
    """Everything the words of a line say, with the questions they leave open."""
    pot = Pot(gallon=settings.gallon)
    place = 0
    while place < len(tokens):
        token, quoted = tokens[place]
        following = _following(tokens, place)
        if quoted:
            pot.notes.append(token)
            place += 1
        else:
            place += _take(plain(token), following, pot)
    if pot.unknown:
        pot.questions.append(_unknown(pot.unknown))
    return pot


def _following(tokens: Sequence[tuple[str, bool]], place: int) -> list[str]:
    """The next words up to a quoted one; a name in quotes belongs to the amount just before it."""
    words: list[str] = []
    head = tokens[place][0]
    for word, quoted in tokens[place + 1 : place + 1 + _LOOK_AHEAD]:
        if quoted:
            named = head.startswith("+") and len(word.split()) <= 2 and kind_of(word)[0] != "other"
            if named and is_amount([head[1:], *words]):
                words.append(word)
            break
        words.append(plain(word))
    return words


def _take(token: str, following: list[str], pot: Pot) -> int:
    """Takes a token into the pot; returns how many tokens were used."""
    low = SAME_WORD.get(token.lower(), token.lower())
    nearest = following[0] if following else ""
    if token.startswith("@"):
        return _take_when(token, following, pot)
    if token.startswith("+"):
        return _take_added(token, following, pot)
    if low in DONE:
        pot.done.append(DONE[low])
        return 2 if DONE[low] == "cap_pushed" and nearest.lower() in ("cap", "down") else 1
    if low in SEEN_WORDS:
        pot.settle(pot.seen, SEEN_WORDS[low], low, SEEN_WORDS[low])
    elif low.rstrip(":=") in SEEN and _seen_by(low.rstrip(":="), nearest):
        return 1
    elif low.rstrip(":=") in WHOSE and (whose := _whose(following)):
        return 1 + whose[1] if take_degrees(whose[0], low.rstrip(":="), pot) else 1
    elif (found := _WHOSE_DEGREES.fullmatch(token)) and DEGREES.fullmatch(found[2]):
        take_degrees(found[2], found[1].lower(), pot)
    elif low.rstrip(":=") in MEASURES and (found := MEASURED.fullmatch(nearest)):
        unit = following[1].lower() if following[1:] and following[1].lower() in ("g/l", "mg/l", "ppm") else None
        take_measure(token.rstrip(":="), found[1], found[2] or unit, pot)
        return 3 if unit else 2
    elif low == "removed":
        return _take_removed(following, pot)
    elif low in INSTRUMENTS:
        pot.gravity["instrument"] = low
    elif low.startswith("by:") and len(low) > 3:
        pot.gravity["instrument"] = token[3:]
    elif low == "closed":
        return _take_closure(following, pot)
    elif low.startswith(("smell:", "sign:")) and low.split(":", 1)[1].strip():
        key = "smell" if low.startswith("smell") else "signs"
        pot.seen.setdefault(key, []).append(token.split(":", 1)[1].strip())
    else:
        return _take_figure(token, following, pot)
    return 1


def _take_figure(token: str, following: list[str], pot: Pot) -> int:
    nearest = following[0] if following else ""
    if DEGREES.fullmatch(token):
        take_degrees(token, "", pot)
    elif found := MEASURE.fullmatch(token):
        take_measure(found[1], found[2], found[3], pot)
    elif token.lower() == "sg" and take_gravity(nearest, pot):
        return 2
    elif NUMBER.fullmatch(token) and nearest.lower() in UNITS_APART:
        return 1 + _take(token + nearest, [], pot)
    elif not take_gravity(token, pot):
        return _ask(token, nearest, pot)
    return 1


def _ask(token: str, nearest: str, pot: Pot) -> int:
    if question := _question(token, nearest):
        pot.questions.append(question)
    else:
        pot.unknown.append(token)
    return 2 if token.lower() in WHOSE and NUMBER.fullmatch(nearest) else 1


def _seen_by(what: str, nearest: str) -> bool:
    """Whether the next word is seen of what was just named: `airlock bubbling`."""
    return SEEN_WORDS.get(SAME_WORD.get(nearest.lower(), nearest.lower())) == what


def _whose(following: Sequence[str]) -> tuple[str, int] | None:
    """The temperature that follows, its unit perhaps apart, and how many words it takes."""
    for count in (1, 2):
        joined = "".join(following[:count])
        if len(following) >= count and DEGREES.fullmatch(joined):
            return joined, count
    return None


def _take_when(token: str, following: list[str], pot: Pot) -> int:
    words = [token]
    rest = list(following)
    if token == "@" and rest and not DEGREES.fullmatch(rest[0]):
        words = [f"@{rest.pop(0)}"]
    while rest and takes_clock(" ".join(words), rest[0]):
        words.append(rest.pop(0))
    if words == ["@"]:
        return 1
    text = " ".join(words)
    if pot.when and pot.when != text:
        pot.questions.append(f"two times, {pot.when} and {text}: which one?")
    pot.when = text
    return len(following) - len(rest) + 1


def _take_closure(following: Sequence[str], pot: Pot) -> int:
    found, used = closure_of(following)
    if found is None:
        pot.questions.append(f"closed with what? One of: {', '.join(CLOSURES)}")
        # What was meant for a closure is asked about once.
        return 1 + next((place for place, word in enumerate(following) if place > 2 or _known(word)), len(following))
    if pot.closure not in (None, found):
        pot.questions.append(f"closed with {pot.closure} and {found}: which one?")
    pot.closure = found
    return 1 + used


def _take_added(token: str, following: list[str], pot: Pot) -> int:
    found = added(token[1:], following, pot.gallon, _known)
    if found.question:
        pot.questions.append(found.question)
    else:
        pot.added.append(found.keys)
    if found.typed:
        pot.typed.append(found.typed)
    return found.used


def _take_removed(following: list[str], pot: Pot) -> int:
    if not following or _known(following[0]):
        pot.questions.append("removed what? Write it like: removed fruit")
        return 1
    pot.removed.append(following[0])
    return 2


def _question(token: str, nearest: str) -> str | None:
    """What is to be asked of a word that is not understood; None where there is nothing particular to say."""
    shown, low = token[:30], token.lower()
    if NUMBER.fullmatch(token):
        return _question_of_number(shown, number(token))
    if token.startswith("--"):
        return f"{shown}: here a time is written @yesterday 21:00, a note goes in quotes, and --json is the one option"
    if low.rstrip(":=") in MEASURES:
        return f"{shown}: how much? Write it like {'pH3.6' if low.startswith('ph') else f'{shown} 6.5'}"
    if low in WHOSE and NUMBER.fullmatch(nearest):
        return f"{shown} {nearest}: which scale? Write {shown} {nearest}C or {shown} {nearest}F"
    if low in DAY_WORDS or (CLOCK.fullmatch(token) and ":" in token):
        return f"{shown}: a time is written with @, such as @yesterday 21:00; a note goes in quotes"
    if low.rstrip(":") in ("smell", "sign"):
        return f"{shown}: of what? Write it like smell:pear, without a blank"
    if low in ("add", "added", "fed") or is_amount([token]):
        return f"{shown}: what went in is written +5g nutrient"
    return None


def _question_of_number(shown: str, value: float) -> str:
    if 0.9 < value < 1.9 or 100 <= value < 1900:
        return f"{shown}: a point or a digit may be lost; write a gravity such as 1.042 or 1042"
    if -5 < value <= 45:
        return f"{shown}: which is it? Write {shown}Bx, {shown}P, {shown}C or {shown}F, or a gravity such as 1.042"
    return f"{shown}: a number of what? A gravity is written 1.042, a temperature {shown}C or {shown}F"


def _unknown(words: Sequence[str]) -> str:
    """One question about all words that are not known."""
    known = [*DONE, *SEEN_WORDS, *INSTRUMENTS, "closed", "removed"]
    near = []
    for word in words:
        close = get_close_matches(word.lower(), known, n=1, cutoff=0.75)
        near += [NEAR[word.lower()]] if word.lower() in NEAR else close
    shown = ", ".join(word[:30] for word in words[:5]) + (", ..." if len(words) > 5 else "")
    plural = "not a word I know here" if len(words) == 1 else "not words I know here"
    hint = f"; did you mean {', '.join(dict.fromkeys(near))}?" if near else "."
    return f'{shown}: {plural}{hint} A note goes in quotes, "like this"'
