"""A line of quick entry, its words one after the other into the pot."""

import re
from collections.abc import Sequence
from typing import NamedTuple, get_args

from mustwatch.entry import pot as known
from mustwatch.entry.asking import is_plain, of_unknown, question
from mustwatch.entry.pot import Pot, is_figure, plain
from mustwatch.entry.quantity import CLOSURES, Unweighed, amount_at_start, closure_of, is_amount, tablets_of, typed
from mustwatch.entry.substance import NAME_ENDS, is_unknown_powder, kind_of, substance, what_is
from mustwatch.entry.when import takes_clock
from mustwatch.ledger.events import Category
from mustwatch.ledger.settings import Settings
from mustwatch.trade.units import NoQuantity

LONGEST_NAME = 4
_TOKEN = re.compile(r'"([^"]*)"|“([^”]*)”|(\S+)')
_STOPS = ",;."
_LOOK_AHEAD = 10  # words: an amount of five, `of`, a name of four
_WHOSE_DEGREES = re.compile(rf"({'|'.join(known.WHOSE)})[:=]?(.+)", re.IGNORECASE)
_OWN_HEADS = ("smell:", "sign:", "by:")


class Token(NamedTuple):
    """A word of a line. quoted: whether it stood in quotes; raw: with the comma or stop that ends it."""

    word: str
    quoted: bool
    raw: str


def tokens_of(text: str) -> list[Token]:
    """The words of a line; a comma or stop that ends a word is none of it."""
    tokens = []
    for found in _TOKEN.finditer(text):
        quoted = found[3] is None
        word = (found[1] or found[2] or "") if quoted else found[3].rstrip(_STOPS) or found[3]
        tokens.append(Token(word, quoted, found[0]))
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
    if words == 1 and any(token.lower() in known.DONE or token.lower() in known.SEEN_WORDS for token in tokens):
        return False
    pot = gathered(tokens_of(word), settings)
    return bool(pot.questions or pot.unknown)


def _tells_closure(tokens: Sequence[str]) -> bool:
    closed = [place for place, token in enumerate(tokens) if token.lower() == "closed"]
    return any(closure_of(tokens[place + 1 :])[0] for place in closed)


def _known(token: str) -> bool:
    """Whether a word has a meaning of its own, and so is no part of a name."""
    low = token.lower()
    return low in known.MEANINGS or low.startswith(_OWN_HEADS) or is_figure(token)


def gathered(tokens: Sequence[Token], settings: Settings) -> Pot:
    """Everything the words of a line say, with the questions they leave open.

    Plain words that are no entry are a note, as they were written.
    """
    pot = Pot(gallon=settings.gallon)
    place = 0
    runs: list[list[str]] = []
    while place < len(tokens):
        token, quoted, raw = tokens[place]
        following = _following(tokens, place)
        unknown = len(pot.unknown)
        if quoted:
            pot.notes.append(token)
            used = 1
        else:
            used = _take(plain(token), following, pot)
        if len(pot.unknown) > unknown:
            runs[-1:] = [[*runs[-1], raw]] if runs and runs[-1] else [[raw]]
        elif runs and runs[-1]:
            runs.append([])
        place += used
    if pot.unknown and is_plain(pot):
        pot.notes += [" ".join(run) for run in runs if run]
    elif pot.unknown:
        pot.questions.append(of_unknown(pot.unknown))
    return pot


def _following(tokens: Sequence[Token], place: int) -> list[str]:
    """The next words up to a quoted one; a name in quotes belongs to the amount just before it."""
    words: list[str] = []
    head = tokens[place].word
    for word, quoted, _ in tokens[place + 1 : place + 1 + _LOOK_AHEAD]:
        if quoted:
            named = head.startswith("+") and len(word.split()) <= 2 and kind_of(word)[0] != "other"
            if named and is_amount([head[1:], *words]):
                words.append(word)
            break
        words.append(plain(word))
    return words


def _take(token: str, following: list[str], pot: Pot) -> int:
    """Takes a token into the pot; returns how many tokens were used."""
    low = known.SAME_WORD.get(token.lower(), token.lower())
    nearest = following[0] if following else ""
    if token.startswith("@"):
        return _take_when(token, following, pot)
    if token.startswith("+"):
        return _take_added(token, following, pot)
    if low in known.DONE:
        pot.done.append(known.DONE[low])
        return 2 if known.DONE[low] == "cap_pushed" and nearest.lower() in ("cap", "down") else 1
    if low in known.SEEN_WORDS:
        pot.settle(pot.seen, known.SEEN_WORDS[low], low, known.SEEN_WORDS[low])
    elif low.rstrip(":=") in known.SEEN and _seen_by(low.rstrip(":="), nearest):
        return 1
    elif low.rstrip(":=") in known.WHOSE and (whose := _whose(following)):
        pot.take_degrees(whose[0], low.rstrip(":="))
        return 1 + whose[1]
    elif (found := _WHOSE_DEGREES.fullmatch(token)) and known.DEGREES.fullmatch(found[2]):
        pot.take_degrees(found[2], found[1].lower())
    elif low.rstrip(":=") in known.MEASURES and (found := known.MEASURED.fullmatch(nearest)):
        unit = following[1].lower() if following[1:] and following[1].lower() in ("g/l", "mg/l", "ppm") else None
        pot.take_measure(token.rstrip(":="), found[1], found[2] or unit)
        return 3 if unit else 2
    elif low == "removed":
        return _take_removed(following, pot)
    elif low in known.INSTRUMENTS:
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
    if known.DEGREES.fullmatch(token):
        pot.take_degrees(token, "")
    elif found := known.MEASURE.fullmatch(token):
        pot.take_measure(found[1], found[2], found[3])
    elif token.lower() == "sg" and pot.take_gravity(nearest):
        return 2
    elif known.NUMBER.fullmatch(token) and nearest.lower() in known.UNITS_APART:
        return 1 + _take(token + nearest, [], pot)
    elif not pot.take_gravity(token):
        return _ask(token, nearest, pot)
    return 1


def _ask(token: str, nearest: str, pot: Pot) -> int:
    if asked := question(token, nearest):
        pot.questions.append(asked)
    else:
        pot.unknown.append(token)
    return 2 if token.lower() in known.WHOSE and known.NUMBER.fullmatch(nearest) else 1


def _seen_by(what: str, nearest: str) -> bool:
    """Whether the next word is seen of what was just named: `airlock bubbling`."""
    return known.SEEN_WORDS.get(known.SAME_WORD.get(nearest.lower(), nearest.lower())) == what


def _whose(following: Sequence[str]) -> tuple[str, int] | None:
    """The temperature that follows, its unit perhaps apart, and how many words it takes."""
    for count in (1, 2):
        joined = "".join(following[:count])
        if len(following) >= count and known.DEGREES.fullmatch(joined):
            return joined, count
    return None


def _take_when(token: str, following: list[str], pot: Pot) -> int:
    words = [token]
    rest = list(following)
    if token == "@" and rest and not known.DEGREES.fullmatch(rest[0]):
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
    """An amount, whose unit may stand apart, and the name of what went in: `+5g nutrient`, `+3 lb 4 oz honey`."""
    end = next((place for place, word in enumerate(following) if word.startswith(("@", "+"))), len(following))
    words = [token[1:], *following[:end]]
    try:
        used, quantity = amount_at_start(words, pot.gallon)
    except ValueError as fault:
        pot.questions.append(_of_amount(words, fault))
        # What was to be its name is asked about with it.
        return next((place for place, word in enumerate(words) if place and _known(word)), len(words))
    written, rest = " ".join(words[:used]), words[used:]
    linked = int(rest[:1] == ["of"])
    count = _words_of_name(rest[linked:])
    if not count:
        names = ", ".join(get_args(Category))
        pot.questions.append(f"+{written} of what? Write it like +5g nutrient; one of: {names}")
        return used
    name = " ".join(rest[linked : linked + count])
    pot.added.append(substance(name) | quantity)
    if is_unknown_powder(name):
        pot.questions.append(f"{what_is(name)} Then: add TAG {name} {written} --as KIND")
    pot.typed += [kept] if (kept := typed(written)) else []
    return used + linked + count


def _of_amount(words: Sequence[str], fault: ValueError) -> str:
    words = words[: next((place for place, word in enumerate(words) if place and _known(word)), len(words))]
    if isinstance(fault, NoQuantity) and words[0].isdecimal() and kind_of(" ".join(words[1:2]))[0] == "sulfite":
        # Campden by the piece: tablets, and no grams.
        words = [words[0], words[1], "tablets"]
        fault = Unweighed(" ".join(words))
    if isinstance(fault, Unweighed):
        tablets = tablets_of(words)
        return f"{fault}: add TAG {tablets[1] if tablets else 'nutrient'}"
    if isinstance(fault, NoQuantity):
        return f"+{' '.join(words[:2])}: how much? Write it like +5g nutrient or +0.5l juice"
    return str(fault)


def _words_of_name(words: Sequence[str]) -> int:
    """How many words are the name: `potassium sorbate`, `medium toast oak chips`, `dry yeast`; 0 for none."""
    told = [1] if words and not _known(words[0]) else []
    for count in range(2, min(LONGEST_NAME, len(words)) + 1):
        if _known(words[count - 1]):
            break
        last, whole = words[count - 1].lower(), " ".join(words[:count])
        tells = last in NAME_ENDS or kind_of(last)[0] != "other"
        if tells or (kind_of(" ".join(words[: count - 1]))[0] == "other" and kind_of(whole)[0] != "other"):
            told.append(count)
    return max(told, default=0)


def _take_removed(following: list[str], pot: Pot) -> int:
    if count := _words_of_name(following):
        pot.removed.append(" ".join(following[:count]))
    else:
        pot.questions.append("removed what? Write it like: removed fruit")
    return 1 + count
