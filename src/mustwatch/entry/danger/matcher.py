"""Whether the words of a note can mean danger. Pure.

A note is cut into clauses. In each the signs of a topic are looked for; what is denied in the same breath, belongs to
something else (the roof, the bread) or is said to be settled does not count.
"""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import zip_longest
from typing import NamedTuple

from mustwatch.entry.danger import words
from mustwatch.entry.danger.drink import OF_DRINK
from mustwatch.entry.danger.known import NEVER_MENDED
from mustwatch.entry.danger.topic import Sign, Topic
from mustwatch.entry.danger.vessels import OF_VESSELS

ORDER = ("burst", "lid", "leak", "hot", "gas", "closed", "lock", "mould", "fizz", "dry", "vinegar")  # the worst first
TOPICS: Mapping[str, Topic] = {name: (OF_VESSELS | OF_DRINK)[name] for name in ORDER}
LONGEST = 5000  # signs of a note that are looked at: an essay is no warning
SHORTEST_MENDED = 6  # letters: in shorter words a slip of the finger makes another word

_WORD = re.compile(r"[^\W_]+")
_OWN = re.compile(
    rf"\b(?:{words.CLASSES['VESSEL']}|air ?locks?|bubblers?|{words.CLASSES['LID']}|must|mead|brew|bottles?)\b"
)


class Where(NamedTuple):
    """Where the drink of a note is. vessel: some is in one; rests: and is taken to rest there; bottled: some is in
    bottles; sparkles: and is meant to."""

    vessel: bool = True
    rests: bool = False
    bottled: bool = False
    sparkles: bool = False

    @property
    def letters(self) -> str:
        """The letters of `Topic.where` that hold."""
        in_vessel = ("r" if self.rests else "v") if self.vessel else ""
        return in_vessel + (("s" if self.sparkles else "b") if self.bottled else "")


class Suspicion(NamedTuple):
    """A danger that a note may speak of. topic: its key in `TOPICS`; words: the clause that does, as it was written."""

    topic: str
    words: str


class _Clause(NamedTuple):
    written: str
    plain: str


@lru_cache(maxsize=4096)
def suspicions(note: str, where: Where) -> tuple[Suspicion, ...]:
    """The dangers that a note may speak of, worst first, each once.

    >>> suspicions("the glass weeps at the seam", Where())
    (Suspicion(topic='leak', words='the glass weeps at the seam'),)
    >>> suspicions("nothing leaks", Where())
    ()
    """
    clauses = tuple(_clauses(note[:LONGEST]))
    found = []
    for name, topic in TOPICS.items():
        if not set(topic.where).isdisjoint(where.letters):
            said = _told(topic, _signs(name, where.letters), clauses)
            found += [Suspicion(name, said)] if said else []
    return tuple(found)


def denies(note: str, topic: str) -> bool:
    """Whether a note says of a topic that it is not so: `no leak`, `lid is not bulging any more`."""
    return any(
        _in_clause(sign, clause.plain, clause.plain) and not _says(sign, clause.plain, clause.plain)
        for clause in _clauses(note[:LONGEST])
        for sign in TOPICS[topic].signs
    )


def _clauses(note: str) -> Iterator[_Clause]:
    for part in re.split(words.CLAUSE_ENDS, note, flags=re.IGNORECASE):
        low = re.sub(r"['’`´]", "", part.lower()).replace("w/", "with ")
        plain = " ".join(mended(word) for word in _WORD.findall(low))
        if plain:
            yield _Clause(part.strip(), re.sub(words.NO_DENIAL, "", plain).strip())


def _told(topic: Topic, signs: tuple[Sign, ...], clauses: tuple[_Clause, ...]) -> str:
    """The first clause that speaks of the topic; empty where none does."""
    whole = " ; ".join(clause.plain for clause in clauses)
    if topic.settled and _pattern(topic.settled).search(whole) and not re.search(words.UNSETTLED, whole):
        return ""
    foreign = _pattern(f"{words.FOREIGN}|{topic.foreign}" if topic.foreign else words.FOREIGN)
    elsewhere, so_far = False, ""
    for clause, behind in zip_longest(clauses, clauses[1:]):
        # A clause without a subject of its own speaks of what the one before it did.
        named = foreign.search(clause.plain) is not None
        elsewhere = _is_done_to_another(clause.plain) or (not _OWN.search(clause.plain) and (elsewhere or named))
        so_far += f"{clause.plain} "
        if elsewhere or (topic.planned and re.search(words.PLANNED, so_far)) or _answered(clause, behind):
            continue
        if any(_says(sign, clause.plain, whole) for sign in signs):
            return clause.written
    return ""


def _is_done_to_another(plain: str) -> bool:
    """Whether somebody did it to a thing that is none of ours: the next words name no vessel, lid or lock."""
    found = re.search(words.DID_TO, plain)
    if found is None:
        return False
    thing = " ".join(plain[found.end() :].split()[:3])
    return not (_OWN.search(thing) or _pattern(f"{{LOCK}}|{words.DONE_TO}").search(thing))


def _answered(clause: _Clause, behind: _Clause | None) -> bool:
    """Whether it is a word or two that the next clause denies: `leaks: none`."""
    short = len(clause.plain.split()) <= 2
    return short and behind is not None and re.fullmatch(words.BARE_DENIAL, behind.plain) is not None


def _signs(name: str, letters: str) -> tuple[Sign, ...]:
    """The signs of a topic that count there: a sparkling drink may hiss, and only gushing is amiss."""
    signs = TOPICS[name].signs
    return signs[:1] if name == "fizz" and "b" not in letters and "r" not in letters else signs


def _says(sign: Sign, plain: str, whole: str) -> bool:
    if not _in_clause(sign, plain, whole):
        return False
    return any(sign.denies or not _denied(plain, found) for found in _pattern(sign.words).finditer(plain))


def _in_clause(sign: Sign, plain: str, whole: str) -> bool:
    if _pattern(sign.words).search(plain) is None or (sign.unless and _pattern(sign.unless).search(plain)):
        return False
    if sign.near and not _pattern(sign.near).search(whole):
        return False
    return not sign.beside or _pattern(sign.beside).search(plain) is not None


def _denied(plain: str, found: re.Match[str]) -> bool:
    # A no in the midst of a sign denies it as well: the lid is not bulging.
    before = re.split(words.SCOPE_ENDS, f" {plain[: found.start()]}{found[0]} ")
    said = " ".join(before[-1 - len(re.findall(words.SCOPE_ENDS, found[0])) :])
    return bool(re.search(words.DENIED, said) or re.search(words.DENIED_AFTER, plain[found.end() :]))


@lru_cache(maxsize=512)
def _pattern(pattern: str) -> re.Pattern[str]:
    """A pattern of the table, with its classes and gaps filled in, at the borders of words."""
    for _ in range(2):  # a class may name another
        for name, members in words.CLASSES.items():
            pattern = pattern.replace(f"{{{name}}}", members)
    return re.compile(rf"\b(?:{pattern.replace(' ~ ', r'(?: [^ ;]+){0,4}? ')})\b")


@lru_cache(maxsize=8192)
def mended(word: str) -> str:
    """A word with one slip of the finger mended, where it can only have meant a word of the table.

    >>> mended("arilock"), mended("leaving"), mended("fizzy")
    ('airlock', 'leaving', 'fizzy')
    """
    if len(word) < SHORTEST_MENDED or word in NEVER_MENDED or word in words.MENDED:
        return word
    return next((known for known in words.MENDED if known[0] == word[0] and _one_slip(word, known)), word)


def _one_slip(word: str, known: str) -> bool:
    """Whether one sign was left out, put in, changed or swapped with its neighbour."""
    if abs(len(word) - len(known)) > 1:
        return False
    pairs = enumerate(zip(word, known, strict=False))
    at = next((place for place, (one, other) in pairs if one != other), min(len(word), len(known)))
    left, right = word[at:], known[at:]
    swapped = len(left) > 1 and left[1::-1] == right[:2] and left[2:] == right[2:]
    return left[1:] == right[1:] or left[1:] == right or left == right[1:] or swapped
