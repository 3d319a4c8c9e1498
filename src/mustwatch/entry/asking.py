"""What quick entry asks about a word it does not understand."""

from collections.abc import Sequence
from difflib import get_close_matches

from mustwatch.entry.pot import DONE, INSTRUMENTS, MEASURES, NEAR, NUMBER, SEEN_WORDS, WHOSE, number
from mustwatch.entry.quantity import is_amount
from mustwatch.entry.when import CLOCK, DAY_WORDS


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
    known = [*DONE, *SEEN_WORDS, *INSTRUMENTS, "closed", "removed"]
    near = []
    for word in words:
        close = get_close_matches(word.lower(), known, n=1, cutoff=0.75)
        near += [NEAR[word.lower()]] if word.lower() in NEAR else close
    shown = ", ".join(word[:30] for word in words[:5]) + (", ..." if len(words) > 5 else "")
    plural = "not a word I know here" if len(words) == 1 else "not words I know here"
    hint = f"; did you mean {', '.join(dict.fromkeys(near))}?" if near else "."
    return f'{shown}: {plural}{hint} A note goes in quotes, "like this"'
