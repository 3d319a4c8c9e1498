"""The vocabulary: its kinds."""

from mustwatch.ledger.events import KINDS

DESIGNED_KINDS = {
    "mixed", "pitched", "read", "seen", "added", "removed", "swirled", "aerated", "cap_pushed", "cleaned", "closed",
    "racked", "moved", "bottled", "took", "tasted", "noted", "hushed", "amended", "withdrew", "ended", "instrument",
    "probed", "witnessed", "poured_back", "heated",
}  # fmt: skip


def test_the_kinds_are_those_of_the_format() -> None:
    """Others read this ledger: a kind may be added, never renamed."""
    assert sorted(KINDS) == sorted(DESIGNED_KINDS)
