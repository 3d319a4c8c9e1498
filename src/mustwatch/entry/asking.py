"""What quick entry asks about a word it does not understand."""

from collections.abc import Sequence
from difflib import get_close_matches

from mustwatch.entry.danger.known import EVERYDAY, NEVER_MENDED
from mustwatch.entry.pot import DONE, INSTRUMENTS, MEASURES, NEAR, NUMBER, SEEN_WORDS, WHOSE, Pot, number
from mustwatch.entry.quantity import is_amount, is_measure
from mustwatch.entry.when import CLOCK, DAY_WORDS

# What was done and has an act of its own: in a note it would be lost to every rule.
ACTS = {
    "pitched": "pitch", "racked": "rack", "bottled": "bottle", "moved": "move", "tasted": "taste", "mixed": "begin",
    "primed": "bottle",
}  # fmt: skip


def question(token: str, nearest: str) -> str | None:
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


def of_unknown(words: Sequence[str]) -> str:
    """One question about all words that are not known."""
    near = [meant for word in words for meant in _near(word)]
    shown = ", ".join(word[:30] for word in words[:5]) + (", ..." if len(words) > 5 else "")
    plural = "not a word I know here" if len(words) == 1 else "not words I know here"
    hint = f"; did you mean {', '.join(dict.fromkeys(near))}?" if near else "."
    act = next((f" `mustwatch {ACTS[word.lower()]}` records it." for word in words if word.lower() in ACTS), "")
    return f'{shown}: {plural}{hint}{act} A note goes in quotes, "like this"'


def is_plain(pot: Pot) -> bool:
    """Whether the unknown words of a line are plain words and so a note: none looks like an entry or an amount.

    Where something seen or done stands among them they are asked about: foam is gone tells of no foam.
    """
    if pot.seen or pot.done or pot.removed or pot.closure or pot.questions:
        return False
    low = [word.lower() for word in pot.unknown]
    return not any(
        any(sign.isdigit() for sign in word) or word in ACTS or word.startswith("-") or is_measure(word) or _near(word)
        for word in low
    )


def _near(word: str) -> list[str]:
    """What a word may have meant; nothing for an everyday word: fizzy is not fuzzy."""
    low = word.lower()
    if low in NEAR:
        return [NEAR[low]]
    if low in EVERYDAY or low in NEVER_MENDED:
        return []
    known = [*DONE, *SEEN_WORDS, *INSTRUMENTS, "closed", "removed"]
    short = [name for name in known if len(low) > 4 and name.startswith(low)]
    return short[:1] or get_close_matches(low, known, n=1, cutoff=0.75)
