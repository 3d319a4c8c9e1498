"""What commands that write a file share: a refusal in one line where it cannot be written."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from mustwatch.commands.context import Refused


@contextmanager
def writing(path: Path) -> Iterator[None]:
    """Turns what hinders the writing of a file into Refused, with the file and the reason."""
    from mustwatch.feeds.written import Unwritable
    from mustwatch.ledger.visible import visible

    try:
        yield
    except (Unwritable, OSError) as error:
        why = error if isinstance(error, Unwritable) else error.strerror or error
        raise Refused(f"not written: {visible(str(path))}: {visible(str(why))}") from None
