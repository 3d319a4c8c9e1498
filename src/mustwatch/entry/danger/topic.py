"""What a topic of the table is: a danger that a note can speak of, its signs, its question and its answer."""

from typing import Any, NamedTuple


class Sign(NamedTuple):
    """Words that can mean danger, as a pattern over one clause in small letters, without apostrophes and hyphens.

    {NAME} is a class of words; ` ~ ` stands for up to four words between two others. unless: words of the same clause
    that take the danger away; beside: words that must stand in the clause too; near: in the note; denies: the pattern
    holds its own no.
    """

    words: str
    unless: str = ""
    beside: str = ""
    near: str = ""
    denies: bool = False


class Topic(NamedTuple):
    """A danger that a note can speak of.

    name: as in `the note speaks of NAME`; asks: the question, answered by yes or no; look: what to look at;
    seen: kind and keys of the structured event that yes makes. where: v in a vessel, r at rest in one, b still in
    bottles, s sparkling in them. foreign: whose it is when it is not the mead's; settled: words of the note that say
    it is done with; planned: whether only what is planned may be meant.
    """

    name: str
    asks: str
    look: str
    seen: tuple[str, dict[str, Any]]
    where: str
    signs: tuple[Sign, ...]
    foreign: str = ""
    settled: str = ""
    planned: bool = False
